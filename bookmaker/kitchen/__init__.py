"""The kitchen's rules, one module each: a bound book goes in, figures come out. No files, clock, locale or globals."""
