"""The work list: steps in order, each as a sentence and as fields."""
