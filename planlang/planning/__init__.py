"""The one reckoning: weeks, ladders, rest, dates, load. All else reads what it says."""
