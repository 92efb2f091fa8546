"""The review as one page: the first minute of a visit, then small charts with their tables."""
