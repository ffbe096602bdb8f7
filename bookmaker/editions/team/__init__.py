"""The team book: every figure, for the people who work in the house. Site and printed book share these view models."""
