"""From a design to the water and back: the dock as rigid groups on hinges, its load cases solved, the answer in words.

In the order of the work: model (what floats), places (where loads may stand), screening (which of them are worst),
solving (the cases, exactly), growth (how much more), people, hoisting (weights to lift), wording and findings,
floating (the whole proof), righting (leaning further, on request), remedies and fixes (what would help).
"""
