"""The record: every computed figure of the book at full precision, for anyone who wants to check us. The office's own."""
