"""Situations of gauges, their senders and their stabilisers."""
