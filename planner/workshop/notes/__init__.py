"""What has to be known at a step besides what is done."""
