"""Which part lies on the bench: from what a meter read between its terminals."""
