"""The house file as a draft: edits that leave every other line alone, and what a surveyor does with them."""
