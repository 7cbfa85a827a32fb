"""After the work: what a meter should read, which mistakes can have been made, and how they are found."""
