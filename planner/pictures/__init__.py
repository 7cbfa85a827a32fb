"""Drawn pictures of the wiring: the affected circuits, the swapped places, and the whole loom."""
