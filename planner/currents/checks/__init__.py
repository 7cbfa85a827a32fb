"""What is held against limits: one file for each kind of thing that is strained."""
