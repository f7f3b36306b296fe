"""Plan a meeting: who does what next, so that all get forward.

- ``records``  machines, students and their open steps in; turns and a proof out
- ``credit``   what a plan is worth, in plain words and as one number
- ``faults``   `faults`: check a plan by its own route, before anybody sees it
- ``room``     lanes of a machine, and when in a meeting a step can lie
- ``queue``    a plan from an order of the steps
- ``annealing`` a good order
- ``alone``    the best plan of one student at given prices of the machines
- ``prices``   what no plan is above
- ``changes``  changes of setup as constraints for CP-SAT
- ``model``    all rules as constraints for CP-SAT
- ``tightening``  no turn could end sooner by itself
- ``solve``    `solve` and `replan`: the best plan found, and how good it is proved
"""
