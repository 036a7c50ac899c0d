"""Shape and fit: from the graph alone to the relaxed fabric, its girths, and the foot in it."""
