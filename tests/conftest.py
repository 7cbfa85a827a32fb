"""Puts this folder on the path, so that every test can import ``small_looms``."""
