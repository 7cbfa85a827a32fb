"""What a network is factored from: flat records of numbers that sort and compare quickly."""

TIE, PASS, OHMS, FEED, WATCH = range(5)
NO_DIODE = -1.0

# kind, node, node, guard, key or label, ohms, drop; a guard is ((variable, bit mask of values), ...).
# Nodes: positive numbers are free, 0 is the earthed pole, negative numbers are held by a live label.
Item = tuple[int, int, int, tuple[tuple[int, int], ...], int, float, float]
