"""Where a new terminal gets its feed, and which feeds may not be mixed."""
