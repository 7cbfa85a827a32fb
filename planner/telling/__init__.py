"""What was chosen and proven, put into the words of a plan."""
