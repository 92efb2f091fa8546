"""From statements to the plan that they say: one file a part of it."""
