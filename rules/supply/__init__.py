"""Parts that stay while the vehicle gets other volts, or has its other pole earthed."""
