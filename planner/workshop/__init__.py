"""The workshop: in which order a settled plan is done, in which words, of what, and how it is undone."""
