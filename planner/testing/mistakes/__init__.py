"""Every mistake that a person makes and every fault that a vehicle has, each a change of the same network."""
