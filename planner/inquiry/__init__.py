"""What is there, before anything is planned: parts on the bench, told by what a meter finds."""
