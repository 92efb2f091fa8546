"""All of a clinic's people at once: who is worth a call, and when each is next due. Codes only, no score."""
