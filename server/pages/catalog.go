package pages

import (
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
)

// Catalog is what pages look up. Lists are in the order in which they are
// shown; a thing that is not there is [inventory.NotFound].
type Catalog interface {
	Spools(inventory.Query) ([]inventory.SpoolLine, error)
	SpoolLine(inventory.Code) (inventory.SpoolLine, error)
	Wires(inventory.Query) ([]inventory.WireLine, error)
	// WiresAfter returns up to limit wires with an id after the one given, by
	// id, with what tells them apart alone.
	WiresAfter(id int64, limit int) ([]inventory.Wire, error)
	Lots(inventory.Query) ([]inventory.LotLine, error)
	Jobs(inventory.Query) ([]inventory.JobLine, error)
	Places() ([]inventory.Place, error)
	Feeders() ([]inventory.Feeder, error)
	// LoadedSpools returns every spool that is on a feeder.
	LoadedSpools() ([]inventory.SpoolLine, error)
	// History returns the spool's movements, oldest first.
	History(inventory.Code) ([]inventory.Movement, error)

	Spool(inventory.Code) (inventory.Spool, error)
	Lot(id int64) (inventory.Lot, error)
	Wire(id int64) (inventory.Wire, error)
	Place(inventory.Code) (inventory.Place, error)
	Feeder(inventory.Code) (inventory.Feeder, error)
	Person(inventory.Code) (inventory.Person, error)
	Job(inventory.Code) (inventory.Job, error)
	JobNumbered(number string) (inventory.Job, error)
	Procedure(id int64) (inventory.Procedure, error)
	// ProceduresWith returns the revisions with the ids, in their order; one that
	// is not there is left out.
	ProceduresWith(ids []int64) ([]inventory.Procedure, error)
	// WireImport returns an import that was done.
	WireImport(id int64) (inventory.ImportRecord, error)
	// ImportedWires returns up to limit wires of an import, in the file's order.
	ImportedWires(id int64, limit int) ([]inventory.ImportLine, error)

	// Procedures returns the revisions that are asked for, by number.
	Procedures(inventory.Query) ([]inventory.ProcedureLine, error)
	// Setup says which of the things are there that the first issue needs.
	Setup() (inventory.Setup, error)

	inventory.RecordReader
	inventory.LotReader
	inventory.AlertReader
	inventory.ShopReader
	inventory.MessageReader
	inventory.WireReader
	inventory.WaiverReader
	inventory.ProfileReader

	PlaceClimate(inventory.Code) (inventory.PlaceClimate, error)
	PlaceClimates() ([]inventory.PlaceClimate, error)
	Undry(place inventory.Code, from, to time.Time) ([]exposure.Undry, error)
	ClimateMeans(place inventory.Code, length time.Duration, from, to time.Time) ([]inventory.ClimateMean, error)
}
