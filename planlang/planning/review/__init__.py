"""Looking back on a plan with its diary: what happened, where each target stands, what is next."""
