package unit

import "fmt"

// Pascals is a pressure of water vapour or of the air.
type Pascals float64

// Atmosphere is the standard atmosphere (ISO 2533): 101 325 Pa.
const Atmosphere Pascals = 101_325

// String writes the pressure in hectopascals: "19.00 hPa".
func (p Pascals) String() string { return fmt.Sprintf("%.2f hPa", float64(p)/100) }

// GramsPerCubicMetre is how much water there is in a volume of air.
type GramsPerCubicMetre float64

func (g GramsPerCubicMetre) String() string { return fmt.Sprintf("%.2f g/m³", float64(g)) }

// GramsPerKilogram is how much water there is for a weight of dry air.
type GramsPerKilogram float64

func (g GramsPerKilogram) String() string { return fmt.Sprintf("%.2f g/kg", float64(g)) }
