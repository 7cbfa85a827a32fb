"""How far a hand-held meter of the better half may be off: what page and hunt both go by.

Common practice, no source. The limits are two standard deviations.
"""

METER_SHARE = 0.01  # of the reading, on volts and on ohms
METER_VOLTS = 0.1  # a few of the last digits, and what an open lead picks up
METER_OHMS = 0.3  # the leads and tips, and the last digits
IGNITION = "ignition"  # the family of coils, distributors and boxes: no test lamp goes there
TEST_LAMP_WATTS = 5.0  # of a test lamp at the vehicle's volts
