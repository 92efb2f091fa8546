"""The person's own sheet: what stands on it, and how it looks on a page of HTML and in a PDF."""
