"""Every layout's year without traces, how sure the answer is, and what would change it."""
