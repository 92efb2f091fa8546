"""A plan language, its checks, its reckoning and its calendar, for exercise plans that are kept for years."""

__version__ = "1.0"
