"""What to do about a behaviour that the proof found lost, changed, unintended or missing."""
