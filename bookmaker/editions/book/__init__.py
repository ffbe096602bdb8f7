"""The printed book: the team book's recipes and lists in reading order, for one long document."""
