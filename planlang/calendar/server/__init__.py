"""A plan's calendar on a CalDAV server: finding it, comparing, writing only what differs, taking it back."""
