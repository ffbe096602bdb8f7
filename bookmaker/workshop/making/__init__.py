"""The editions as files: a module for each, with its `EDITION`. The folder is the registry; only what is asked for is
imported.
"""
