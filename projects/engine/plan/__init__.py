"""The plan file and the readings file: records, and strict readers for both.

- ``records``   what a plan says, as frozen records
- ``json_text`` JSON from strangers: bounded, exact, repeated keys noticed
- ``fields``    one object's fields by name, every error collected with its place
- ``reader``    `read_plan`: text to `Plan`, or every problem found in one error
- ``readings``  `read_readings`: what was measured, for the command line

What each entry means is written down in DEVELOPERS.md, "The plan file".
"""
