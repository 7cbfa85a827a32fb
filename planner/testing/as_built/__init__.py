"""Proved as built: the fewest readings that show any single wiring mistake among the changed ends."""
