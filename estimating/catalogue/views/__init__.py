"""The pages of the catalogue. Crew see items without prices; everything else is for owner and office."""
