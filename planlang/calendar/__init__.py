"""A reckoned plan as a calendar: entries, their words, their identity, the zone block, writing and reading back."""
