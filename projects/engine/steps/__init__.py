"""The order of work: steps proposed from a plan's joints, and orders checked.

- ``rounds``    which parts are cut before which dry fit
- ``cutting``   how the cuts of each kind of joint are made
- ``groups``    which cuts share a step
- ``words``     names of parts and stock put into a sentence, keys kept apart
- ``milling``   the steps from rough boards to parts cut to size
- ``together``  dry fit, glue-up and what follows
- ``proposal``  `propose`: a plan's steps in a sensible order
- ``turns``     when each part, joint and distance has its turn
- ``faults``    what can be impossible about an order, in words
- ``order``     `order_faults`: what is impossible about these steps
- ``minding``   `cautions_of`: what to mind in a step
- ``standing``  `step_standings`: what a build has done, what is open, what is blocked

What a step may say stands in `plan.steps`.
"""

from projects.engine.steps.faults import Fault
from projects.engine.steps.minding import cautions_of
from projects.engine.steps.order import order_faults
from projects.engine.steps.proposal import propose

__all__ = ["Fault", "cautions_of", "order_faults", "propose"]
