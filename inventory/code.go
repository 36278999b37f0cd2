package inventory

import (
	"fmt"
	"strings"
)

// Code is the short name of a thing that is scanned or typed, such as
// "W7K2M-3": a letter for its kind, a body, a hyphen, and a check character by
// ISO/IEC 7064 MOD 37,36 over all that stands before it. The zero Code is no
// code. A Code in hand has been checked; make one with [ParseCode].
type Code string

// CodeKind is the sort of thing a code names: its first letter.
type CodeKind byte

// The kinds of code. No two letters look alike.
const (
	SpoolCode  CodeKind = 'W'
	PersonCode CodeKind = 'P'
	JobCode    CodeKind = 'J'
	FeederCode CodeKind = 'F'
	PlaceCode  CodeKind = 'K'
)

func (k CodeKind) String() string {
	switch k {
	case SpoolCode:
		return "spool"
	case PersonCode:
		return "badge"
	case JobCode:
		return "job"
	case FeederCode:
		return "feeder"
	case PlaceCode:
		return "place"
	}
	return "unknown thing"
}

// codeAlphabet is what a code is written with: no 0 O Q, 1 I L, Z, S, B or U,
// which are taken for 2, 5, 8, V or one another.
const codeAlphabet = "23456789ACDEFGHJKMNPRTVWXY"

// lookAlikes are the characters of a hand-typed code that can only mean one of
// the alphabet.
var lookAlikes = strings.NewReplacer("Z", "2", "S", "5", "B", "8", "U", "V")

const minCodeBody, maxCodeBody = 4, 6

// ParseCode reads a code as scanned or typed: any case, with or without the
// hyphen or spaces, and with Z, S, B and U read as the 2, 5, 8 and V they look
// like. The error is [Invalid] with field "code".
func ParseCode(text string) (Code, error) {
	s := strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "\t", "").Replace(strings.TrimSpace(text)))
	s = lookAlikes.Replace(s)
	if len(s) < minCodeBody+2 || len(s) > maxCodeBody+2 {
		return "", Invalidf("code", "%q is not a Wirehold code: one has %d to %d letters and digits, such as W7K2M-%c", clip(text), minCodeBody+2, maxCodeBody+2, checkCharacter("W7K2M"))
	}
	if CodeKind(s[0]).String() == "unknown thing" {
		return "", Invalidf("code", "%q is not a Wirehold code: it begins with %q; a spool's begins with W, a badge's with P, a job's with J, a feeder's with F, a place's with K", clip(text), s[:1])
	}
	if i := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune(codeAlphabet, r) }); i >= 0 {
		return "", Invalidf("code", "%q is not a Wirehold code: no code has %q in it; scan it again", clip(text), []rune(s[i:])[0])
	}
	body, check := s[:len(s)-1], s[len(s)-1]
	if checkCharacter(body) != check {
		return "", Invalidf("code", "the check character of %q is wrong: one character is misread; scan or type it again", clip(text))
	}
	return Code(body + "-" + string(check)), nil
}

// ParseCodeOf reads a code that must name a thing of kind k.
func ParseCodeOf(k CodeKind, text string) (Code, error) {
	c, err := ParseCode(text)
	if err != nil {
		return "", err
	}
	if c.Kind() != k {
		return "", Invalidf("code", "%s is a %s, and a %s is due here", c, c.Kind(), k)
	}
	return c, nil
}

// NewCode returns the n-th code of kind k, from 0, or ok false where the n-th
// body would take a check character outside the alphabet: take the next n.
// Neighbouring numbers give codes that differ in several characters.
func NewCode(k CodeKind, n int) (c Code, ok bool) {
	length, size := minCodeBody, power(len(codeAlphabet), minCodeBody)
	for n >= size && length < maxCodeBody {
		n -= size
		length++
		size = power(len(codeAlphabet), length)
	}
	if n < 0 || n >= size {
		panic(fmt.Sprintf("inventory: no code number %d", n))
	}
	// 26^k shares no factor with 48271, so the product reaches every body once;
	// the kind moves the start, so that no badge and job have one body.
	x := (n*48271 + int(k)*7919) % size
	body := make([]byte, length+1)
	body[0] = byte(k)
	for i := length; i >= 1; i-- {
		body[i] = codeAlphabet[x%len(codeAlphabet)]
		x /= len(codeAlphabet)
	}
	check := checkCharacter(string(body))
	if strings.IndexByte(codeAlphabet, check) < 0 {
		return "", false
	}
	return Code(string(body) + "-" + string(check)), true
}

func power(base, exponent int) int {
	p := 1
	for range exponent {
		p *= base
	}
	return p
}

// Kind returns what sort of thing c names.
func (c Code) Kind() CodeKind {
	if c == "" {
		return 0
	}
	return CodeKind(c[0])
}

// clip keeps what is echoed back of unknown input short.
func clip(text string) string {
	const most = 40
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}
