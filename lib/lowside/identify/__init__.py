"""Which port is inside a valve that nobody can look into, and what to do about it.

A tag may be missing, wrong, or name a size that is too small. Readings of the running box, and a
few tests, say something of the port: every size of the kit is simulated with hardware drawn
around what is believed, and the readings weigh the sizes. A valve that modulates tells little,
since spring and lift make up for the port; only one that stands wide open tells its size, and a
plugged strainer in front of it tells the same story.

Rooms within: ``hardware`` (what is believed of a box), ``looks`` (the tests and what they show),
``strainer``, ``posterior`` (from readings to a belief), ``suspects`` (port and strainer together),
``decision`` (trust, strainer or valve), ``route`` (what a tag is worth in a year), ``tag`` (the tag
that prints).

Not modelled: time (every test is read as if the box stood still in it), the charge (liquid enough
for every opening), wear, frost, a bulb that lost its charge.
"""
