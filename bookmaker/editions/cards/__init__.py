"""Bench cards: what a cook needs at the bench, on one card of one or two sides, which knows its age by its code."""
