"""What must come before what, and the order that keeps it with the fewest changes of place."""
