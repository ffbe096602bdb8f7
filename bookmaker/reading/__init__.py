"""Text to model: a folder of plain files becomes a bound book and a list of problems."""
