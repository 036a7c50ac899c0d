"""From a fabric to instructions: what the hands did, and how a person would write it."""
