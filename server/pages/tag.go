package pages

import (
	"wirehold/inventory"
)

// tag returns the slot called name as a tag.
func (t things) tag(name string) Tag {
	switch name {
	case "badge":
		return personTag(t.badge, Tag{Label: "At the counter", Due: true, Ask: "Scan your badge",
			Help: "The badge of whoever runs the counter. Its code begins with P."})
	case "welder":
		return personTag(t.welder, Tag{Label: "Taken by", Ask: "Scan the welder's badge",
			Help: "A second badge is the welder's. Without one the spool goes to whoever runs the counter."})
	case "job":
		return t.jobTag()
	case "spool":
		return t.spoolTag()
	case "feeder":
		return t.feederTag()
	}
	return t.placeTag()
}

func personTag(p *inventory.Person, tag Tag) Tag {
	if p != nil {
		tag.Title, tag.Lines = p.Name, []string{string(p.Role)}
	}
	return tag
}

func (t things) jobTag() Tag {
	tag := Tag{Label: "Job", Due: true, Ask: "Scan the job",
		Help: "The code on the job sheet begins with J. The job's own number may be typed instead."}
	if t.job != nil {
		tag.Title, tag.Lines, tag.Page = t.job.Number, []string{t.job.Name}, "/jobs/"+string(t.job.Code)
	}
	return tag
}

func (t things) spoolTag() Tag {
	tag := Tag{Label: "Spool", Due: true, Ask: "Scan the spool",
		Help: "The code on the spool's label begins with W. A second label is inside the hub."}
	if t.spool != nil {
		tag.Title, tag.Page = t.spool.Class, "/spools/"+string(t.spool.Code)
		tag.Lines = []string{
			t.spool.TradeName + ", " + t.spool.Diameter.Inches(),
			"Lot " + t.spool.LotNumber + ", " + string(t.spool.State()),
			t.spool.Net.String() + " left (" + t.spool.Net.Pounds() + ")",
		}
	}
	return tag
}

func (t things) feederTag() Tag {
	tag := Tag{Label: "Feeder", Ask: "Scan the feeder",
		Help: "If you know the machine, scan it: its polarity, gas and rolls are checked too. Its code begins with F."}
	if t.feeder != nil {
		tag.Title, tag.Lines = t.feeder.Name, []string{"gas: " + gasWords(t.feeder.Gas)}
	}
	return tag
}

func (t things) placeTag() Tag {
	tag := Tag{Label: "Put away in", Ask: "Scan the place",
		Help: "The code on the shelf or cabinet begins with K. A place can be chosen below instead."}
	if t.place != nil {
		tag.Title, tag.Lines = t.place.Name, []string{string(t.place.Kind)}
	}
	return tag
}
