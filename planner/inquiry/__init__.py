"""What is there, before anything is planned: parts on the bench, and the wiring of the vehicle."""
