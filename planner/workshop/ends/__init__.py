"""What the steps call wires, places and ends, and how each end is found and left."""
