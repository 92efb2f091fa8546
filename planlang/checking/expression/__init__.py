"""The language of rules: reading, types with units, running, and printing what is found."""
