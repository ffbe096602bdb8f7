"""The record: every computed figure of the book at full precision, so that anyone can check us. The office's own."""
