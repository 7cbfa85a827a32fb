"""The proof: what every load does in every position, before against after, and what is unsafe."""
