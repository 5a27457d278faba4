"""Words, glyphs and colours of the board: what its screens say, and how it looks."""
