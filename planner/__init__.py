"""Plans the swap of parts in a vehicle's low-voltage wiring and proves the result before anything is cut."""

__version__ = "0.1.0"
