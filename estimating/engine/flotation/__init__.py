"""How a dock floats: exact equilibrium of sections on their floats, in inches, pounds and degrees."""
