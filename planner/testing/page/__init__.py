"""The meter page: which readings show that the work is right, and what wrong ones suggest."""
