"""The language server: what an editor asks while a plan is typed."""
