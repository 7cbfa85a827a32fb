"""Fuses: what they may carry, and feeds that have none."""
