"""Ten questions about the band saw."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="Where do you set the guide with the blade guard?",
        choices=(
            "As high as it goes, for a good view of the line",
            "Where the person before you left it, since moving it changes the tension "
            "of the blade",
            "Just above the part",
        ),
        right=2,
        why="The guard moves with the guide and covers the blade down to it. Only the "
        "part of the blade that cuts stays open.",
        source="29 CFR 1910.213(i)(1); how far above the part: common practice, no "
        "source",
    ),
    Question(
        text="One of the doors over the wheels won't stay shut. What do you do?",
        choices=(
            "Leave the saw off and tell the instructor",
            "Saw on with one foot against the door, so that it stays almost closed",
            "Take the door off, because then it can't swing into your way",
        ),
        right=0,
        why="The wheels and the idle part of the blade are enclosed so that nobody "
        "touches them and a broken blade stays inside.",
        source="29 CFR 1910.213(i)(1)",
    ),
    Question(
        text="How do you know that the blade has the right tension?",
        choices=(
            "It hums when the saw is switched on, and gets quieter in the wood",
            "By the saw's tension gauge, set for the width of the blade",
            "By pulling at it sideways while it is turning slowly",
        ),
        right=1,
        why="A loose blade wanders and can come off its wheels; one too tight breaks. "
        "The saw shows its tension; its manual comes first.",
        source="29 CFR 1910.213(i)(2) (paragraph from memory); the rest common "
        "practice, no source",
    ),
    Question(
        text="Where are your fingers while you follow a line?",
        choices=(
            "Beside the line of cut, never in front of the blade",
            "In front of the teeth, where they steer most exactly",
            "One hand behind the blade, pulling",
            "Both at the corner nearest the blade, so that they feel it coming",
        ),
        right=0,
        why="When the wood gives way or the cut ends, the hands jump forward. What "
        "lies in line with the blade is hit.",
        source="common practice, no source",
    ),
    Question(
        text="The curve is tighter than the blade can follow. What do you do?",
        choices=(
            "Twist the part harder; the blade will bend",
            "Cut relief cuts in the waste first, or ask for a narrower blade",
            "Tilt the part up on its edge during the turn, so that less of the wood "
            "is in the blade's way",
        ),
        right=1,
        why="A twisted blade runs off its wheels or breaks. Relief cuts let the waste "
        "drop off piece by piece.",
        source="common practice, no source",
    ),
    Question(
        text="You are deep in a cut that can't go on. How do you get out?",
        choices=(
            "Pull the part straight back while the blade runs",
            "Turn round inside the cut and come out along a second path",
            "Switch off, wait until the blade has stopped, then back out",
        ),
        right=2,
        why="Pulled back while it runs, the part can drag the blade forward off its "
        "wheels.",
        source="common practice, no source",
    ),
    Question(
        text="You want to cut a dowel across. What keeps it from spinning?",
        choices=(
            "A cradle with a V-shaped groove, and a clamp",
            "Both hands, held as near to the blade as they can get",
            "Nothing: the blade pulls straight down onto the table, so that round "
            "parts can't turn",
        ),
        right=0,
        why="The teeth pull at the edge of round stock and roll it, fingers and all, "
        "into the blade. Parts that rock need a support as well.",
        source="common practice, no source",
    ),
    Question(
        text="With a bang the blade breaks. What do you do?",
        choices=(
            "Open the upper door at once to see what has happened to the blade",
            "Catch the loose end before it does harm",
            "Switch off, step back, call the instructor; the doors stay shut until "
            "the wheels stand still",
        ),
        right=2,
        why="The wheels run on for a while with the broken blade inside. Cutting the "
        "power from where you stand is all there is to do.",
        source="29 CFR 1910.213(b)(1), power cut off from where one works (paragraph "
        "from memory); the rest common practice, no source",
    ),
    Question(
        text="The last inch of a cut is left. How do you finish?",
        choices=(
            "With the thumbs behind the part, pressing firmly so that it is over "
            "quickly",
            "Slowly, with a push stick or a scrap of wood behind the part",
            "By going round the saw and pulling the part through",
        ),
        right=1,
        why="The wood gives way all at once at the end. What is behind the part goes "
        "into the blade, so it had better be a stick.",
        source="29 CFR 1910.213(s)(9), push sticks at hand (paragraph from memory); "
        "the rest common practice, no source",
    ),
    Question(
        text="You are done and switch off. When do you clear the table and take your "
        "eye protection off?",
        choices=(
            "Right away, since the blade no longer has any power behind it",
            "When the blade has come to rest; it runs on silently for some time",
            "While the blade runs down, using its wind to help you, once the noise is "
            "over and nobody is sawing",
        ),
        right=1,
        why="The wheels are heavy and keep the blade moving after the motor is off; a "
        "quiet blade cuts and throws chips just as well. Don't walk away before it "
        "rests.",
        source="29 CFR 1910.133(a)(1), flying particles; the rest common practice, no "
        "source",
    ),
)
