"""Findings as text for people, JSON, SARIF, JUnit and annotations: one file a format."""
