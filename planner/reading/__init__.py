"""Files in, models out: YAML with places, validation in plain words, references, schemas."""
