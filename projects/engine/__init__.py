"""Hold all computation of a woodworking class, in plain Python.

A map, from the bottom up; each package may import only those above it:

- ``errors``   the one error base class, with messages that can be translated
- ``units``    lengths: reading what people type, exact values, showing them
- ``shop``     machines, what is written down of them, cautions, written checks
- ``plan``     the plan file and the readings file, read and checked
- ``joints``   one file a joint kind: its fields, depth and cuts
- ``fit``      the dimension engine: faces, relations, exact solve, explanations
- ``wood``     species, moisture, movement and stiffness, each figure with its source
- ``drawing``  elevations, a picture of the piece, part drawings: SVG and DXF
- ``piece``    the solved piece as boxes, and where each slot lies
- ``partwork`` what is cut on each face of each part
- ``steps``    the order of work: proposed, and checked
- ``checks``   what would go wrong in the shop, each finding with its source
- ``sheet``    a cut sheet as records
- ``setups``   machine settings of each step; run sheets: the fewest setups of a class
- ``meeting``  who does what next at a meeting
- ``draft``    a plan being written: operations, and a look at what is open
- ``report``   the result of a solved build as plain data and as text

Nothing here knows Django, a database, the clock or a random source.
"""
