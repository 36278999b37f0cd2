package pages

// NavGroup is a part of the menu: a word that opens to its pages.
type NavGroup struct {
	Label   string
	Items   []NavItem
	Current bool // the page that is open is one of its own
}

// NavItem is one entry of the navigation. Key is what a page names to
// [Pages.base] as its part of the menu.
type NavItem struct {
	Key, Href, Label string
	Current          bool
}

// navigation lists the pages of the menu in its order. A new page is one line
// in the group where it would be looked for; the words of the groups stand
// beside each other on a phone and stay short.
func navigation() []NavGroup {
	return []NavGroup{
		{Label: "Counter", Items: []NavItem{
			{Key: "counter", Href: "/counter", Label: "Counter"},
			{Key: "load", Href: "/load", Label: "Load"},
			{Key: "returns", Href: "/returns", Label: "Returns"},
			{Key: "receiving", Href: "/receiving", Label: "Receiving"},
		}},
		{Label: "Stock", Items: []NavItem{
			{Key: "spools", Href: "/spools", Label: "Spools"},
			{Key: "wires", Href: "/wires", Label: "Wires"},
			{Key: "lots", Href: "/lots", Label: "Lots"},
			{Key: "decode", Href: "/decode", Label: "Decode"},
		}},
		{Label: "Jobs", Items: []NavItem{
			{Key: "jobs", Href: "/jobs", Label: "Jobs"},
			{Key: "procedures", Href: "/procedures", Label: "Procedures"},
			{Key: "waivers", Href: "/waivers", Label: "Waivers"},
		}},
		{Label: "Watch", Items: []NavItem{
			{Key: "board", Href: "/board", Label: "Board"},
			{Key: "alerts", Href: "/alerts", Label: "Alerts"},
			{Key: "climate", Href: "/climate", Label: "Climate"},
			{Key: "schedule", Href: "/schedule", Label: "Schedule"},
		}},
		{Label: "Shop", Items: []NavItem{
			{Key: "places", Href: "/places", Label: "Places"},
			{Key: "printers", Href: "/printers", Label: "Printers"},
		}},
	}
}

// menu returns the navigation with the part called active marked, and the pages
// of the group that it is in: of the first group if it is in none.
func menu(active string) (groups []NavGroup, here NavGroup) {
	groups = navigation()
	here = groups[0]
	for g := range groups {
		group := &groups[g]
		for i := range group.Items {
			if group.Items[i].Key == active && active != "" {
				group.Items[i].Current, group.Current = true, true
				here = *group
			}
		}
	}
	return groups, here
}
