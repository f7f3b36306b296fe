"""Plan a meeting: who does what next, so that all get forward.

- ``records``  machines, students and their open steps in; turns and a proof out
- ``credit``   what a plan is worth, in plain words and as one number
- ``faults``   `faults`: check a plan by its own route, before anybody sees it
- ``room``     lanes of a machine, and when in a meeting a step can lie
- ``listing``  a good plan at once, by giving each lane to whoever needs it most
- ``model``    the same rules as constraints for CP-SAT
- ``solve``    `solve` and `replan`: the best plan found, and how good it is proved
"""
