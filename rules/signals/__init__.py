"""Situations of turn signals and their lamps."""
