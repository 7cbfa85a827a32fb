"""Stopping halfway, and what turned out otherwise: the plan made again from there."""
