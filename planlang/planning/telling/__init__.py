"""What the person is told: on a day, in an easier week, and on every page; each line from the catalogue of texts."""
