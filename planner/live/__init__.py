"""What a page needs to show a vehicle at work: every state of every load, terminal and wire, as diagrams."""
