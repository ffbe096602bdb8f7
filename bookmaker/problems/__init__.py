"""What is wrong, where it is, and how it is said: anchors, problems, the catalogue of codes, and the reports."""
