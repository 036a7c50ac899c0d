"""The language of instructions: one sentence to one step."""
