"""How people say things, and the words of ours that say the same."""
