"""What stands before the houses: the list of a folder's houses, the pairing of devices, the sign-in of designers."""
