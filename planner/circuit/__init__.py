"""The circuit of a loom: nodes, elements, variables, and what flows in every position."""
