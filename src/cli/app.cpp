// The commands, one file each, are offered to the parser here.
