"""Random requests at every door: none is a fault of the program, none is half carried out."""
