"""From text to statements, and back to tidy text."""
