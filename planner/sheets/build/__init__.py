"""From a result to a sheet: which words stand where, one kind of sheet a file."""
