"""A loom as it is found, explained: what its circuits do, and what is odd about it."""
