"""What the commands print: plain text that fits 80 columns, and the same as JSON."""
