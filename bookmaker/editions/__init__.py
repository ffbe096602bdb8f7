"""Editions: one publication of the book for one readership. The folder is the registry: one sub-package per edition."""
