"""Issuing: what is handed out is decided here, recipe by recipe, and held against what was handed out before."""
