"""Settling needs: what a rule is shown, what an operation costs, and the choice between looms."""
