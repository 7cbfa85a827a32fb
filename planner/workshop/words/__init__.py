"""Sentences for the bench, each about one kind of work."""
