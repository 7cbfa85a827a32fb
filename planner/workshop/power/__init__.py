"""What is read and watched when the battery goes on again."""
