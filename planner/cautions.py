"""The cautions that stand on every plan and sheet, in their order: common practice, no source."""

CAUTIONS = (
    "Earthed pole of the battery off first and on last; off again before each change.",
    "Mind fuel and battery gas; rings and watch straps off; chock the wheels.",
    "Stop where insulation cracks when it is bent: that wire is replaced, not moved.",
    "Photograph, tag, and move one wire at a time.",
    "Where the drawing and the vehicle disagree, the meter wins.",
    "Insulate every free end at once.",
    "The fuse fits the thinnest wire behind it.",
    "The right crimp for the terminal, and a tug test; no solder where it flexes, no self-piercing taps.",
    "Grommets and clips; keep clear of exhaust, steering column, pedals and fuel.",
    "Disconnect electronics before welding or insulation tests.",
    "First power is limited by a lamp in series; an extinguisher within reach.",
    "Lighting, brakes, signalling and towing: local regulations apply; have it checked by a licensed or "
    "competent person before it goes on the road.",
)
