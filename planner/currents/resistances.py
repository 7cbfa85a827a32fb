"""What joints, contacts and earth paths are taken to have where nothing was measured.

No published table gives these for old vehicles: common practice, no source, unless a line says otherwise.
They are on the good side of what a meter finds, so a plan that fails with them fails in the vehicle.
"""

CONTACT_OHMS = 0.005  # a switch or relay contact in fair condition
FLASHER_OHMS = 0.02  # the contact and heater bar of a flasher while it is light
END_OHMS = 0.001  # one crimp and its push-on, bullet, ring or screw
BODY_OHMS = 0.002  # from one zone of the body to the middle of the others
MOUNTING_OHMS = {"metal": 0.005, "doubtful": 0.05}  # from a part's case to the body; insulated: no way
FEED_OHMS = 0.02  # what lies behind a feed at the edge of a partial loom
JUNCTION_V = 0.1  # how much the drop of a diode rises up to its rated current; from memory
# A stabiliser is written as a resistance into its output and a junction from there to its earth that conducts
# above its volts. So it holds them to a few hundredths while its input has more and its loads take less than
# (input - its volts) / 4 ohms (0.5 A at 12 V); with less at its input it passes what it gets, without its
# earth too. It takes this current all the time, where a real bimetal takes what its gauges take, in pulses:
# up to 0.7 A more at rest of the engine than in the vehicle. Ours (invented), chosen for three gauges.
STABILISER_OHMS = 4.0
STABILISER_SLOPE_OHMS = 0.05
CUT_OUT_OHMS = 0.005  # a diode without drop stands for the contact of a cut-out

# A full battery of 12 V shows 12.7 V at rest, a flat one 11.7 V, in between in proportion; from memory.
FULL_SHARE, FLAT_SHARE = 12.7 / 12, 11.7 / 12
# A regulator holds 14.2 V in a 12 V vehicle; from memory.
CHARGING_SHARE = 14.2 / 12
# A battery's resistance, 12 mohm at 12 V, and a generator's, 50 mohm; from memory.
BATTERY_OHMS_PER_VOLT = 0.001
GENERATOR_OHMS_PER_VOLT = 0.05 / 12
