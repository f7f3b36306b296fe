"""Hold all computation of a woodworking class, in plain Python.

A map, from the bottom up; each package may import only those above it:

- ``errors``   the one error base class, with messages that can be translated
- ``units``    lengths: reading what people type, exact values, showing them
- ``plan``     the plan file and the readings file, read and checked
- ``joints``   one file a joint kind: its fields, depth and cuts
- ``fit``      the dimension engine: faces, relations, exact solve, explanations
- ``drawing``  elevations of the solved piece as SVG
- ``shop``     cautions at the point of use
- ``report``   the result of a solved build as plain data and as text

Nothing here knows Django, a database, the clock or a random source.
"""
