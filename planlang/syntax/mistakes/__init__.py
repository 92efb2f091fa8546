"""Known mistakes: how each is recognised in a line that can't be read, and the words for it."""
