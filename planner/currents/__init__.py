"""The second view of the circuit: real volts and amps, with the resistance of wire, contact and earth."""
