"""From symptoms and meter readings to the wrong wire."""
