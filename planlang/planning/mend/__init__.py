"""The search for the smallest single change that makes a plan hold; what proves it is the caller's."""
