"""How a dock floats: exact equilibrium of sections on their floats, in inches, pounds and degrees.

In the order of the work: geometry (what floats), immersion and round_immersion (how much of a float is wet), buoyancy
(floats in arrays), linkage and elimination (bodies on hinges), landscape (the energy), descent (down to where it is
least), prepared, equilibrium and figures (cases solved and put into figures), apart (single bodies by the hundred),
righting (the righting moment), limits (how many people), crowds and cases (what stands where), criteria (who asks
what), layout_search (the cheapest floats that do).
"""
