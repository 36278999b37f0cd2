package fit

// Gas is a shielding gas by parts of a hundred. The zero Gas is no gas.
type Gas struct {
	Argon, CO2, Oxygen, Helium int // per cent by volume; they add up to 100, or to 0 for no gas
}

