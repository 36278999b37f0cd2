// Package pages answers with the HTML pages: the counter, returns, receiving,
// and what can be looked up.
//
// Every page is made on the server and works without script, by keyboard and
// scanner alone. A handler reads the request, asks the ledger or the catalogue
// and fills the page's struct; it decides nothing. A handler that fails
// returns its error, and one function answers it. What a page's address says
// is all it remembers: there is no session, and the notice after a change is
// read back from the ledger.
package pages
