"""Ten questions about hand tools with an edge, and those that strike."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="You pare a joint with a chisel. Where are your hands?",
        choices=(
            "One behind the edge, the other in front of it, holding the part",
            "Both behind the edge, with the part clamped",
            "One on the handle and the thumb just ahead of the edge, as a stop",
        ),
        right=1,
        why="A chisel slips forward. If the part is clamped, no hand has to be there.",
        source="common practice, no source",
    ),
    Question(
        text="Why does a dull edge hurt more often than a sharp one?",
        choices=(
            "It needs more force, and slips",
            "It is heavier, because less steel has been ground off it over the years",
            "It leaves burrs on the handle",
        ),
        right=0,
        why="With a sharp edge a small push will do, and you keep control. Sharpen, "
        "or ask, before you push harder.",
        source="common practice, no source",
    ),
    Question(
        text="How do you carry a chisel across the shop?",
        choices=(
            "In the trouser pocket, edge up, where it can't fall out",
            "In front of you, edge ahead, so that everybody sees it coming",
            "Edge down and covered, close to your side, walking",
        ),
        right=2,
        why="If you stumble, or somebody turns round, the edge should meet nobody, "
        "you included.",
        source="common practice, no source",
    ),
    Question(
        text="How do you start a cut with a handsaw?",
        choices=(
            "With a hard push of the whole blade, so that the teeth bite at the first "
            "stroke",
            "With a few light strokes, the blade guided by a block or knuckle above "
            "the teeth",
            "With the thumb laid flat on the line, and moved away when the saw is "
            "close",
        ),
        right=1,
        why="The saw jumps until it has a groove. What guides it must be higher than "
        "the teeth, and steady.",
        source="common practice, no source",
    ),
    Question(
        text="The head of a mallet is loose on its handle. What do you do with it?",
        choices=(
            "Use it for light taps until the end of the class",
            "Soak it in water right before use, so that the wood swells",
            "Put it out of use and tell the instructor",
        ),
        right=2,
        why="A loose head flies off in mid swing. A tool left in the rack is used by "
        "the next person who doesn't know.",
        source="common practice, no source",
    ),
    Question(
        text="When do you wear eye protection with hand tools?",
        choices=(
            "When something may fly: striking, chopping, prying, pulling nails",
            "Only when a machine runs in the same room, as hand tools are too slow to "
            "throw anything",
            "When the instructor is looking at your bench",
        ),
        right=0,
        why="Chips, nails and bits of steel come off under a blow, no motor needed. "
        "Someone who works beside you is hit as easily.",
        source="29 CFR 1910.133(a)(1), flying particles; the rest common practice, no "
        "source",
    ),
    Question(
        text="A chisel rolls off the bench. What do you do?",
        choices=(
            "Catch it by the handle before it can hit the concrete",
            "Step back and let it fall",
            "Stop it with your foot, so that its edge isn't spoiled",
        ),
        right=1,
        why="A falling edge can't be caught by its handle for sure. It can be ground "
        "anew; a tendon can't.",
        source="common practice, no source",
    ),
    Question(
        text="You slice along a straightedge with a marking knife. Where are the "
        "fingers of the other hand?",
        choices=(
            "Well back from its edge, pressing it down; the knife moves past no finger",
            "Over the edge, to feel where the knife is going",
            "In front of the knife, pulling the straightedge tight against its blade "
            "so that it follows",
        ),
        right=0,
        why="The knife rides up over the straightedge when it meets hard grain. "
        "Fingers that hang over the edge are what it meets next.",
        source="common practice, no source",
    ),
    Question(
        text="A lid is stuck, and a chisel lies at hand. What do you use?",
        choices=(
            "The chisel, as a lever, with its flat side down so that the edge keeps "
            "sharp",
            "The chisel's handle, with a hammer on its edge",
            "A tool made for prying; the chisel stays where it is",
        ),
        right=2,
        why="Chisel steel is hard and snaps when bent, and the hand goes on without "
        "it. Each tool is for its own job.",
        source="common practice, no source",
    ),
    Question(
        text="Somebody beside you has a deep cut in the hand. What do you do?",
        choices=(
            "Call the instructor at once, and have a clean cloth pressed on the cut",
            "Send them out alone to find a tap and rinse it for some minutes",
            "Finish your glue-up, since glue won't wait, then look for bandages",
            "Pull out whatever sticks in it, and look how deep it goes",
        ),
        right=0,
        why="Pressure slows the bleeding, and nobody hurt goes off alone. The "
        "school's first-aid rules and trained people come first.",
        source="common practice, no source",
    ),
)
