"""Loose leads of a kit: which wire each is, and which a plan can use."""
