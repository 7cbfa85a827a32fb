"""How a part is earthed, and what if its earth is missing, doubtful or forbidden."""
