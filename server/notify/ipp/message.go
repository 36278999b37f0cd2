package ipp

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// operation is what a request asks for (RFC 8011 section 5.4.15).
type operation uint16

const (
	printJob             operation = 0x0002
	getJobAttributes     operation = 0x0009
	getJobs              operation = 0x000a
	getPrinterAttributes operation = 0x000b
)

// groupTag begins a group of attributes (RFC 8010 section 3.5.1).
type groupTag byte

const (
	operationGroup groupTag = 0x01
	jobGroup       groupTag = 0x02
	endOfGroups    groupTag = 0x03
	printerGroup   groupTag = 0x04
)

// valueTag says how a value is written (RFC 8010 section 3.5.2).
type valueTag byte

const (
	integerValue    valueTag = 0x21
	enumValue       valueTag = 0x23
	resolutionValue valueTag = 0x32
	nameValue       valueTag = 0x42
	keywordValue    valueTag = 0x44
	uriValue        valueTag = 0x45
	charsetValue    valueTag = 0x47
	languageValue   valueTag = 0x48
	mimeValue       valueTag = 0x49

	beginCollection  valueTag = 0x34
	endCollection    valueTag = 0x37
	firstOutOfBand   valueTag = 0x10
	lastDelimiterTag          = 0x0f
)

// attribute is a name with its values, all of them as they were sent.
type attribute struct {
	name   string
	values []value
}

type value struct {
	tag  valueTag
	data []byte
}

func number(tag valueTag, n int) value {
	return value{tag, binary.BigEndian.AppendUint32(nil, uint32(n))}
}

func text(tag valueTag, s string) value { return value{tag, []byte(s)} }

// group is the attributes of one group, in order.
type group struct {
	tag        groupTag
	attributes []attribute
}

// add adds an attribute to the group.
func (g *group) add(name string, values ...value) {
	g.attributes = append(g.attributes, attribute{name, values})
}

// first returns the first value of an attribute; nil if it is not there.
func (g group) first(name string) *value {
	for _, a := range g.attributes {
		if a.name == name && len(a.values) > 0 {
			return &a.values[0]
		}
	}
	return nil
}

// texts returns the values of an attribute as text; nil if it is not there.
func (g group) texts(name string) (out []string) {
	for _, a := range g.attributes {
		if a.name != name {
			continue
		}
		for _, v := range a.values {
			if v.tag >= firstOutOfBand && v.tag < 0x20 {
				continue // "no-value", "unknown"
			}
			out = append(out, string(v.data))
		}
	}
	return out
}

// text returns the first value of an attribute as text; empty if it is not
// there.
func (g group) text(name string) string {
	if all := g.texts(name); len(all) > 0 {
		return all[0]
	}
	return ""
}

// number returns an integer or enumerated attribute; ok is false if it is
// neither.
func (g group) number(name string) (n int, ok bool) {
	v := g.first(name)
	if v == nil || v.tag != integerValue && v.tag != enumValue || len(v.data) != 4 {
		return 0, false
	}
	return int(int32(binary.BigEndian.Uint32(v.data))), true
}

// message is a request or an answer without the document that follows it
// (RFC 8010 section 3.1). code is the operation of a request and the status of
// an answer.
type message struct {
	code   uint16
	id     int32
	groups []group
}

// version is IPP 2.0 (PWG 5100.12), which the printers of the last years speak.
const version = 0x0200

// encode writes m as RFC 8010 section 3.1 has it.
func (m message) encode() []byte {
	out := binary.BigEndian.AppendUint16(nil, version)
	out = binary.BigEndian.AppendUint16(out, m.code)
	out = binary.BigEndian.AppendUint32(out, uint32(m.id))
	for _, g := range m.groups {
		out = append(out, byte(g.tag))
		for _, a := range g.attributes {
			name := a.name
			for _, v := range a.values {
				out = append(out, byte(v.tag))
				out = short(out, name)
				out = short(out, string(v.data))
				name = "" // a further value of the same attribute
			}
		}
	}
	return append(out, byte(endOfGroups))
}

// short appends a text with its length before it.
func short(out []byte, s string) []byte {
	out = binary.BigEndian.AppendUint16(out, uint16(len(s)))
	return append(out, s...)
}

// What an answer may hold at most: a printer describes itself in a few
// thousand attributes.
const (
	mostAttributes = 20_000
	mostAnswer     = 4 << 20 // bytes
)

// errAnswer is wrapped by every fault of an answer's form.
var errAnswer = errors.New("the printer's answer is no IPP message")

// decode reads a message as RFC 8010 section 3.1 has it. Members of a collection
// are skipped: nothing here needs one.
func decode(r io.Reader) (message, error) {
	in := bufio.NewReader(io.LimitReader(r, mostAnswer))
	head := make([]byte, 8)
	if _, err := io.ReadFull(in, head); err != nil {
		return message{}, fmt.Errorf("%w: its head is cut short", errAnswer)
	}
	if major := head[0]; major != 1 && major != 2 {
		return message{}, fmt.Errorf("%w: version %d.%d", errAnswer, major, head[1])
	}
	m := message{code: binary.BigEndian.Uint16(head[2:]), id: int32(binary.BigEndian.Uint32(head[4:]))}
	d := decoder{in: in, to: &m}
	for range mostAttributes {
		done, err := d.next()
		if done || err != nil {
			return m, err
		}
	}
	return m, fmt.Errorf("%w: it has more than %d attributes", errAnswer, mostAttributes)
}

// decoder reads the groups of a message.
type decoder struct {
	in    *bufio.Reader
	to    *message
	depth int // of collections
}

// next reads a delimiter or one value.
func (d *decoder) next() (done bool, err error) {
	tag, err := d.in.ReadByte()
	if err != nil {
		return false, fmt.Errorf("%w: it ends within its attributes", errAnswer)
	}
	if tag <= lastDelimiterTag {
		if groupTag(tag) == endOfGroups {
			return true, nil
		}
		d.to.groups = append(d.to.groups, group{tag: groupTag(tag)})
		return false, nil
	}
	name, err := d.short()
	if err != nil {
		return false, err
	}
	data, err := d.short()
	if err != nil {
		return false, err
	}
	return false, d.keep(valueTag(tag), string(name), data)
}

// keep puts a value where it belongs.
func (d *decoder) keep(tag valueTag, name string, data []byte) error {
	if len(d.to.groups) == 0 {
		return fmt.Errorf("%w: an attribute stands before any group", errAnswer)
	}
	g := &d.to.groups[len(d.to.groups)-1]
	inside := d.depth > 0
	switch tag {
	case beginCollection:
		d.depth++
	case endCollection:
		d.depth = max(d.depth-1, 0)
		return nil
	}
	switch last := len(g.attributes) - 1; {
	case inside:
		return nil
	case name != "":
		g.add(name, value{tag, data})
	case last < 0:
		return fmt.Errorf("%w: a further value stands before any attribute", errAnswer)
	default:
		g.attributes[last].values = append(g.attributes[last].values, value{tag, data})
	}
	return nil
}

func (d *decoder) short() ([]byte, error) {
	length := make([]byte, 2)
	if _, err := io.ReadFull(d.in, length); err != nil {
		return nil, fmt.Errorf("%w: it ends within its attributes", errAnswer)
	}
	data := make([]byte, binary.BigEndian.Uint16(length))
	if _, err := io.ReadFull(d.in, data); err != nil {
		return nil, fmt.Errorf("%w: it ends within a value", errAnswer)
	}
	return data, nil
}
