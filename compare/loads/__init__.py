"""Design heating and cooling loads by room, and a published method as a second opinion."""
