"""What belongs with the vehicle: what was changed and added, and the way back."""
