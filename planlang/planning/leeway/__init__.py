"""What is reached wherever the rest falls, and how likely: verdicts and chances, exact."""
