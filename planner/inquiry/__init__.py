"""What is there before anything is planned: parts and leads on the bench, and the wiring of the vehicle."""
