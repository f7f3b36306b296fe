"""What is cut on each face of each part, from the solved build, for drawing.

A map; each module may import only those above it:

- ``places``   the record of a cut, and where one part lies on another
- ``hosts``    the slot, mortise or lap that a joint cuts in its host
- ``guests``   the tenon, lap or notch that it cuts on its guest, and dowel holes
- ``cuts``     what all joints cut on one part
- ``faces``    those cuts as rectangles on the faces of a part
- ``pairs``    two parts that mirror each other, face by face
- ``sheets``   `part_sheets`: all parts of a build, pairs together

Where the plan doesn't fix a place nothing is guessed: it is said in words.
"""

from projects.engine.partwork.faces import part_work
from projects.engine.partwork.sheets import part_sheets

__all__ = ["part_sheets", "part_work"]
