"""Situations of generators, their lamp, and the ignition coil's resistor."""
