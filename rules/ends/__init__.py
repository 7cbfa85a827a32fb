"""Where the ends of a removed part go."""
