// Package ipp prints on a printer that speaks the Internet Printing Protocol:
// version 2.0 over HTTP, by RFC 8010 (how messages are written and sent) and RFC
// 8011 (what they mean). It knows the operations that a label needs: print a
// document, tell what a printer is and can, tell how a job does and which are
// waiting.
//
// It departs from the RFCs in that collections in an answer are skipped, and
// that a charset other than UTF-8 is not asked for.
package ipp
