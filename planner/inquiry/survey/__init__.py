"""What to find out before a swap is planned, and what the answers make of a pattern."""
