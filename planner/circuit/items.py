"""What a network is factored from: flat records of numbers that sort and compare quickly."""

TIE, PASS, OHMS, FEED, WATCH = range(5)
NO_DIODE = -1.0

ItemGuard = tuple[tuple[int, int], ...]  # (variable, bit mask of values)

# kind, node, node, guard, key or label, ohms, drop.
# Nodes: positive numbers are free, 0 is the earthed pole, negative numbers are held by a live label.
Item = tuple[int, int, int, ItemGuard, int, float, float]
