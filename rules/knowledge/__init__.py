"""What must be measured before a plan can be trusted."""
