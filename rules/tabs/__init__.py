"""Terminals that are full, missing, bare, or change places."""
