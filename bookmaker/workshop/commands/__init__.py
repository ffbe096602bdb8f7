"""One module per command: what it reads, what it prints, which exit code it ends with."""
