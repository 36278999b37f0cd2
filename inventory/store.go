package inventory

import (
	"context"
	"time"
)

// Store keeps what the ledger needs. The tests and the program use the same
// one; nothing here knows which database is behind it.
type Store interface {
	// Write runs f in one transaction and commits it if f returns nil. It may
	// run f twice, so f prints, mails and signals nothing.
	Write(ctx context.Context, f func(Tx) error) error
	// WriteShared is Write for an f that takes no longer than a movement of one
	// spool: it may share its transaction with others that wait. Each comes
	// after the one before it and stands or falls alone, and all are answered
	// once everything is committed.
	WriteShared(ctx context.Context, f func(Tx) error) error
	// Snapshot runs f on what the database held at one instant.
	Snapshot(ctx context.Context, f func(Reader) error) error
	// Read returns what can be looked up outside a transaction.
	Read(ctx context.Context) Reader
}

// Reader looks things up. A thing that is not there is [NotFound].
type Reader interface {
	WireReader
	ProductReader
	JobUseReader
	ImportReader
	WaiverReader
	ProfileReader
	StockReader
	RecordReader
	LotReader
	AlertReader
	ShopReader
	MessageReader
	PrinterReader
	RunReader
	ExposureReader
	Spool(Code) (Spool, error)
	Lot(id int64) (Lot, error)
	Wire(id int64) (Wire, error)
	Place(Code) (Place, error)
	Feeder(Code) (Feeder, error)
	Person(Code) (Person, error)
	Job(Code) (Job, error)
	JobNumbered(number string) (Job, error)
	// SpoolOn returns the spool that is loaded on the feeder; [NotFound] if
	// there is none.
	SpoolOn(feeder Code) (Spool, error)
	Procedure(id int64) (Procedure, error)
	// ProceduresWith returns the revisions with the ids, in their order; one that
	// is not there is left out.
	ProceduresWith(ids []int64) ([]Procedure, error)
	// History returns the spool's movements, oldest first.
	History(Code) ([]Movement, error)
	// Ledger returns up to limit movements after seq, in order.
	Ledger(after int64, limit int) ([]Movement, error)
	// SpoolsAfter returns up to limit spools with a code after the one given,
	// in order of code.
	SpoolsAfter(code Code, limit int) ([]Spool, error)
	// LotDecisions returns up to limit decisions after seq, in order.
	LotDecisions(after int64, limit int) ([]LotDecision, error)
	// LotsAfter returns up to limit lots with an id after the one given, in
	// order of id.
	LotsAfter(id int64, limit int) ([]Lot, error)
	// Nicknames returns the shop's own names for sorts of wire that stand, by
	// name.
	Nicknames() ([]Nickname, error)
	// OpenSpools returns every spool whose package is open and which is not
	// scrapped.
	OpenSpools() ([]SpoolLine, error)
	// OutSince returns every spool that went out before the instant and is
	// still out, the longest out first.
	OutSince(before time.Time) ([]SpoolLine, error)
	// Stock returns what is in stock of each wire that has a minimum.
	Stock() ([]StockLine, error)
	BoardReader

	ClimateReader
}

// Tx is one transaction. It never leaves the function it was handed to.
type Tx interface {
	Reader
	WireTx
	ProductTx
	JobUseTx
	ImportTx
	WaiverTx
	ProfileTx
	RecordTx
	AlertTx
	ShopTx
	MessageTx
	PrinterTx
	RunTx
	ExposureTx
	// Requested returns the movements made by the request key, in order; none
	// if it is new.
	Requested(key string) ([]Movement, error)
	// Head returns the link of the ledger's last movement; the zero link if
	// there is none.
	Head() (Link, error)
	// Append adds m to the ledger and writes the spool it leaves. [Conflict]
	// if another movement of the spool got there first.
	Append(m Movement, next Spool) error
	// NextCode returns a code of the kind that was never given out.
	NextCode(CodeKind) (Code, error)

	AddWire(Wire) (id int64, err error)
	AddLot(Lot) (id int64, err error)
	AddPlace(Place) error
	AddFeeder(Feeder) error
	AddPerson(Person) error
	AddProcedure(Procedure) (id int64, err error)
	AddJob(Job) error
	// LotNumbered returns the wire's lot of the number.
	LotNumbered(wireID int64, number string) (Lot, error)
	// LotHead returns the link of the last decision about a lot; the zero link
	// if there is none.
	LotHead() (Link, error)
	// LotRequested returns the decision made by the request key; the zero
	// decision if it is new.
	LotRequested(key string) (LotDecision, error)
	// AppendLotDecision keeps d and writes the lot it leaves. [Conflict] if
	// another decision got there first.
	AppendLotDecision(d LotDecision, next Lot) error

	AddNickname(Nickname) (id int64, err error)
	// RetireNickname ends a nickname and keeps who did so; [NotFound] if it
	// does not stand.
	RetireNickname(id int64, by Code, at time.Time) error

	ClimateTx
}
