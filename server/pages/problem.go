package pages

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// ProblemPage explains one sort of problem.
type ProblemPage struct {
	Base
	Code    string
	Explain Explanation
}

// Explanation says in plain words what a problem means and what to do.
type Explanation struct{ Means, Do string }

// explanations has every code that the program gives out; those that begin
// with "invalid-" share one.
var explanations = map[string]Explanation{
	"does-not-fit":             {"The fit check found at least one rule that stops: this spool may not go to this job.", "Read the findings. Take another spool, or ask the welding engineer."},
	"spool-on-hold":            {"Somebody stopped this spool, with a reason. Nobody can issue it until the hold is ended.", "Read the reason on the spool's page. The welding engineer or the owner ends a hold."},
	"spool-scrapped":           {"This spool was taken out of use for good.", "Take another spool. If it was scrapped by mistake, enter a correction on its page."},
	"spool-out":                {"This spool is already issued. The ledger says who has it, and since when.", "If it is back in your hands, return it first; then it can go out again."},
	"spool-open":               {"The package was opened before, and its exposure clock runs since then.", "Nothing more to do. If the time is wrong, enter a correction."},
	"spool-in-store":           {"A return was entered for a spool that is not out.", "Check the code on the label: this may be another spool."},
	"spool-not-issued":         {"The spool was not handed out at the counter, so nobody has checked it against a job.", "Have it issued at the counter first."},
	"spool-other-job":          {"The spool was issued for another job than the one that was scanned.", "Load a spool that is out for this job, or return this one and have it issued anew."},
	"spool-sealed":             {"The package was never opened, so it cannot be on a feeder.", "Open it first."},
	"spool-loaded":             {"The ledger has this spool on a feeder.", "Unload it there first."},
	"spool-not-loaded":         {"An unloading was entered for a spool that is on no feeder.", "Check the code on the label: this may be another spool."},
	"feeder-taken":             {"There is another spool on this feeder.", "Unload that one first, then load this one."},
	"do-not-load":              {"The load check found at least one rule that stops: this spool may not go on this feeder for this job.", "Read the findings. Take another feeder or another spool, or ask the welding engineer."},
	"set-up-not-confirmed":     {"The machine is set by whoever loads it, and not every setting was confirmed as it stands now.", "Look at the machine, set what is listed, and tick each line."},
	"spool-not-held":           {"A release was entered for a spool that is not on hold.", "Nothing more to do."},
	"spool-received":           {"This spool was received before.", "Look at its history."},
	"spool-moved":              {"Somebody else changed this spool a moment ago.", "Look at the spool again, then repeat what you did if it is still right."},
	"already-there":            {"There is such a thing already: a number or name that may stand only once stands twice.", "Search for the one that is there, or give this one another number."},
	"may-not-run-jobs":         {"Only the welding engineer or the owner runs a job of the schedule out of turn.", "Ask one of them, or wait for its next turn."},
	"too-many-live":            {"So many pages are kept live already that this one is not: what it shows may be old.", "Load the page again now and then, and close those that nobody looks at."},
	"not-live":                 {"This program keeps no page live.", "Load the page again now and then."},
	"run-under-way":            {"The job runs already, here or in another replica. It never runs twice at once.", "Look again in a moment."},
	"not-running":              {"The program is just being started or stopped, so it begins no job.", "Ask again in a moment."},
	"jobs-overdue":             {"A job of the schedule has not run for longer than twice its interval.", "Look at the schedule and the program's log."},
	"names-nothing":            {"What was entered names something that is not there.", "Search for it first; it may have another number."},
	"request-key-used":         {"The same form was sent before for something else.", "Open the page again and fill in a fresh form."},
	"job-closed":               {"The job is closed, so no wire goes to it.", "Scan the job the wire is really for."},
	"may-not-release":          {"Only the welding engineer or the owner ends a hold, accepts a lot or changes an opening time.", "Ask one of them."},
	"may-not-name":             {"Only the welding engineer or the owner says what a name means in this shop.", "Ask one of them."},
	"name-taken":               {"The nickname stands for a sort of wire already.", "Use it, or let the welding engineer retire it first."},
	"may-not-enter-wires":      {"Only the welding engineer, the owner or the buyer enters and edits wires and attaches data sheets.", "Ask one of them."},
	"may-not-tell":             {"What the shop itself says of a wire outranks box and data sheet, so only the welding engineer or the owner changes it.", "Leave the shop's facts as they are, or ask one of them."},
	"may-not-link":             {"A store attendant, the buyer, the welding engineer or the owner links a product number to a wire.", "Ask one of them."},
	"may-not-unlink":           {"The buyer, the welding engineer or the owner ends the link of a product number.", "Ask one of them: until then boxes with it are received as that wire."},
	"product-of-another":       {"The product number on this box stands for another wire.", "Compare both boxes. If the number was linked to the wrong wire, end that link on the wire's page, then link it here."},
	"may-not-settle":           {"Only the welding engineer or the owner settles what box and data sheet disagree on.", "Ask one of them. Until then the wire is not issued."},
	"may-not-confirm":          {"Only a store attendant, the welding engineer or the owner confirms what a box says.", "Ask one of them to receive the lot."},
	"wire-changed":             {"Somebody else changed this wire after you opened it.", "Open the wire again, then make your change if it is still right."},
	"nothing-to-settle":        {"Box and data sheet do not disagree on that any more: it was settled, or one of them was changed.", "Look at the wire again."},
	"import-faults":            {"The table of wires has faults, so none of its wires was entered.", "Mend each in the spreadsheet, by line and column, save it, and check the file again."},
	"no-such-spool":            {"No spool has this code.", "Scan it again. A new spool gets its code at receiving."},
	"no-such-profile":          {"The job names a body of rules that is not installed.", "Tell whoever runs Wirehold."},
	"no-such-page":             {"There is no page at this address.", "Search for what you are looking for."},
	"timed-out":                {"The database did not answer in time. Nothing was changed.", "Try again."},
	"busy":                     {"Another program holds the database. Nothing was changed.", "Try again."},
	"internal":                 {"Something went wrong on our side. Nothing was changed.", "Give the request id to whoever runs Wirehold: it finds the entry in the log."},
	"may-not-enter":            {"Only a store attendant, the welding engineer or the owner enters this; a welder opens a package, and loads and unloads a feeder.", "Let one of them scan a badge first."},
	"may-not-decide":           {"A store attendant may put an accepted lot on hold. All else about a lot is the welding engineer's or the owner's to decide.", "Ask one of them."},
	"lot-without-certificate":  {"The lot came without a certificate, and nobody has entered one since.", "Enter the certificate's number with the decision."},
	"lot-rejected":             {"The lot was rejected, so no more spools of it are received.", "Put the delivery aside and ask the welding engineer."},
	"lot-certificate":          {"The lot is here already, with another certificate.", "Look at both certificates, and at the lot number on the box."},
	"lot-papers":               {"The lot is here already, and what is on record of its papers is not what this delivery says.", "Look at both boxes and certificates. Leave the field empty here if the record is right; correct it on the lot's page if it is not."},
	"lot-changed":              {"Somebody else decided about this lot, or recorded its papers, after you opened it.", "Look at the lot again."},
	"spool-empty":              {"There is no wire left on this spool.", "Scrap it, or weigh it if that is wrong."},
	"may-not-ask":              {"Only a store attendant, a welder, the welding engineer or the owner asks for a waiver.", "Let one of them ask."},
	"may-not-waive":            {"Only the welding engineer or the owner grants, refuses or ends a waiver.", "Ask one of them."},
	"own-waiver":               {"Whoever asks for a waiver does not grant it.", "Let another engineer or the owner decide."},
	"finding-changed":          {"The rule says something else now than what the waiver was asked for.", "Refuse the waiver, and have it asked for again from the counter."},
	"waiver-asked":             {"The same waiver is asked for already, or stands.", "Look at it under Waivers."},
	"waiver-decided":           {"Somebody decided about this waiver before, or it has ended.", "Look at it again. A new one can be asked for."},
	"nothing-to-waive":         {"The rule does not stop this spool for this job, as things are now.", "Check the spool at the counter again."},
	"not-waivable":             {"The job's rule profile does not let this rule be waived, or box and data sheet disagree on it.", "Take another spool."},
	"may-not-set-rules":        {"Only the welding engineer or the owner changes a rule profile.", "Ask one of them."},
	"may-not-loosen":           {"A limit below that of the original profile is set by the welding engineer alone, with a reason that goes on every issue slip.", "Ask the welding engineer."},
	"not-loosened":             {"The limit cannot be loosened in that way.", "Change its value or what it does, one at a time."},
	"no-original":              {"The profile that this one was copied from is not installed, so nobody can say what would be looser.", "Copy a profile that is installed."},
	"profile-of-program":       {"The profile came with the program, and nobody changes it.", "Copy it, change the copy, and name that in the job."},
	"profile-changed":          {"Somebody else changed this rule profile after you opened it.", "Open it again, then make your change if it is still right."},
	"profile-name-taken":       {"There is a rule profile of this name.", "Choose another name."},
	"unreadable":               {"The body of the request is not one JSON object.", "Send one JSON object."},
	"body-too-large":           {"What was sent is larger than anything that is taken here.", "Send less. A form or body holds at most 64 KiB."},
	"not-json":                 {"The body of the request is not JSON.", "Send application/json."},
	"method-not-allowed":       {"The address does not take this method.", "Look the address up in /api/openapi.json."},
	"badge-retired":            {"The owner retired this badge: it is refused everywhere. The history keeps the name.", "Scan a badge that is good. The owner reinstates one on the person's page."},
	"badge-of-the-program":     {"It stands for the program itself, which enters the hold of a spool past its limit.", "Scan your own badge."},
	"drying-refused":           {"The drying is not as the rule of this wire says, or the spool does not bear an oven. Nothing was entered, and the exposure stands as it was.", "Look at the rule that is named. If what was typed is wrong, type it again; if the wire was dried so, the welding engineer decides about it."},
	"no-drying-rule":           {"Wire is dried only as its maker or the shop has written down.", "Enter what the data sheet says under Drying on the wire's page, or leave the wire undried."},
	"somebody-is-entered":      {"The first person enters themselves without a badge; after that the owner enters people.", "Let the owner scan their badge."},
	"last-owner":               {"A store without an owner could enter nobody any more.", "Make somebody else an owner first."},
	"may-not-enter-people":     {"Only the owner enters and edits people and retires badges.", "Ask the owner."},
	"may-not-enter-places":     {"Only the welding engineer or the owner enters and edits places and feeders.", "Ask one of them."},
	"may-not-enter-procedures": {"Only the welding engineer or the owner enters and retires revisions of a procedure.", "Ask one of them."},
	"may-not-enter-jobs":       {"Only the welding engineer or the owner enters, edits, closes and reopens jobs.", "Ask one of them."},
	"reading-differs":          {"A logger's reading of that instant is there already, with other values.", "A reading is never changed. Leave this one out; if the logger was wrong, let its keeper say so beside the place."},
	"record-changed":           {"Somebody else changed this after you opened it.", "Open it again, then make your change if it is still right."},
	"alert-cleared":            {"The alert was cleared: its cause is gone.", "Nothing more to do."},
	"may-not-change-shop":      {"Only the welding engineer or the owner says when shifts end and when hours are quiet.", "Ask one of them."},
	"may-not-change-contact":   {"Each person says how they are reached, or the owner does.", "Scan your own badge for your own address."},
	"may-not-enter-printers":   {"The welding engineer or the owner enters printers.", "Ask one of them. Until then labels are drawn as files."},
	"may-not-print":            {"A store attendant, the buyer, the welding engineer or the owner prints labels.", "Ask one of them."},
	"printer-retired":          {"That printer is not used any more.", "Choose another printer, or let the welding engineer or the owner reinstate it."},
	"printer-silent":           {"The printer was asked what it is and does, and gave no answer.", "See that it is on and in the network; compare its address with its own page; ask again."},
	"prints-nothing":           {"This program sends nothing to printers.", "Ask the one that runs with serve or demo."},
	"print-taken":              {"Another replica of the program prints this job by now.", "Nothing: it is printed once."},
	"print-not-given-up":       {"Only a print job that was given up is tried again by hand.", "Look at the print queue: it waits, or the printer has it."},
	"no-such-printer":          {"There is no such printer.", "Open the list of printers and choose one."},
	"no-such-print":            {"There is no such print job.", "Open the print queue and look for it there."},
	"may-not-enter-webhooks":   {"Only the owner says where alerts are posted: the program sends a request to whatever address they give.", "Ask the owner."},
	"may-not-retry":            {"Only the welding engineer or the owner has a message tried again.", "Ask one of them."},
	"message-not-given-up":     {"The message waits, or was sent: only one that was given up is tried again.", "Look at it under Messages."},
	"message-taken":            {"The message was lent to another replica of the program in the meantime.", "Nothing to do: that one delivers it."},
	"procedure-changed":        {"The spool was issued under a procedure that the job is welded to no more, or before it had several.", "Return the spool and have it issued again: it is checked against the procedure it is for."},
	"which-procedure":          {"The job is welded to several procedures, and wire that fits one need not fit another.", "Choose one of those that are listed, or scan or type its number."},
	"procedure-retired":        {"The job is welded to a revision that was retired, so no wire goes to it.", "The welding engineer moves the job to another revision, or reinstates this one."},
}

// explain returns what the code means. ok is false if no such code is given
// out.
func explain(code string) (Explanation, bool) {
	if e, ok := explanations[code]; ok {
		return e, true
	}
	if field, ok := strings.CutPrefix(code, "invalid-"); ok && field != "" {
		return Explanation{"What was entered for \"" + strings.ReplaceAll(field, "_", " ") + "\" makes no sense, so nothing was changed.",
			"The message beside the field says what would be understood. Weights and sizes need their unit; codes end in a check character that finds a misread one."}, true
	}
	if thing, ok := strings.CutPrefix(code, "no-such-"); ok && thing != "" {
		return Explanation{"There is no " + strings.ReplaceAll(thing, "-", " ") + " with this code, number or address.", "Scan it again, or search for it."}, true
	}
	return Explanation{}, false
}

// problem answers GET /problems/:code.
func (p *Pages) problem(c *gin.Context) error {
	code := c.Param("code")
	e, ok := explain(code)
	if !ok {
		return inventory.NotFoundf("no-such-page", "no problem is called %q", code)
	}
	return p.show(c, http.StatusOK, "problem", ProblemPage{p.base(c, "Problem: "+code, ""), code, e})
}
