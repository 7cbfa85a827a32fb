"""What carries too much: wires, contacts, terminals and generators under a heavier load."""
