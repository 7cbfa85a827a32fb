"""From a sheet to something that can be looked at: looks only, no words of its own."""
