"""How a new wire is made."""
