"""The sheet as one page for a browser: it holds everything it needs and asks nobody for anything."""
