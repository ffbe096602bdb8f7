"""A folder of Markdown recipes becomes a professional kitchen's costed, scalable recipe book."""

__version__ = "0.1.0"
