"""What is done in one go at one place: operations gathered into tasks."""
