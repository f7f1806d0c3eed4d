package fonts

import "encoding/binary"

// Operators of Top, Font and Private DICTs (Technical Note 5176, tables 9, 10 and 23).
const (
	opUniqueID    = 13
	opXUID        = 14
	opCharset     = 15
	opEncoding    = 16
	opCharStrings = 17
	opPrivate     = 18
	opSubrs       = 19
	opROS         = 12<<8 | 30
	opFDArray     = 12<<8 | 36
	opFDSelect    = 12<<8 | 37
)

// A dict is a DICT: operators with their operands, in order.
type dict []dictEntry

type dictEntry struct {
	op       int    // two-byte operators have 12 in the high byte
	operands []byte // as written
	ints     []int  // their values; a real number counts as 0
}

func readDict(b table) (dict, error) {
	var d dict
	var e dictEntry
	for i := 0; i < len(b); {
		start, c := i, b[i]
		switch {
		case c <= 21:
			e.op = int(c)
			i++
			if c == 12 {
				e.op = 12<<8 | b.u8(i)
				i++
			}
			d = append(d, e)
			e = dictEntry{}
			continue
		case c == 28:
			e.ints = append(e.ints, b.i16(i+1))
			i += 3
		case c == 29:
			e.ints = append(e.ints, int(int32(b.u32(i+1))))
			i += 5
		case c == 30: // a real number: nibbles up to 0xF
			e.ints = append(e.ints, 0)
			for i++; i < len(b) && b[i]&0xF != 0xF && b[i]>>4 != 0xF; i++ {
			}
			i++
		case c >= 32 && c <= 246:
			e.ints = append(e.ints, int(c)-139)
			i++
		case c >= 247 && c <= 250:
			e.ints = append(e.ints, (int(c)-247)*256+b.u8(i+1)+108)
			i += 2
		case c >= 251 && c <= 254:
			e.ints = append(e.ints, -(int(c)-251)*256-b.u8(i+1)-108)
			i += 2
		default:
			return nil, errCFF
		}
		if i > len(b) {
			return nil, errCFF
		}
		e.operands = append(e.operands, b[start:i]...)
	}
	return d, nil
}

func (d dict) find(op int) *dictEntry {
	for i := range d {
		if d[i].op == op {
			return &d[i]
		}
	}
	return nil
}

func (d dict) has(op int) bool { return d.find(op) != nil }

// offset is the last operand of op, 0 if there is none.
func (d dict) offset(op int) int {
	if e := d.find(op); e != nil && len(e.ints) > 0 {
		return e.ints[len(e.ints)-1]
	}
	return 0
}

// set makes values the operands of op, if d has it.
func (d dict) set(op int, values ...int) {
	if e := d.find(op); e != nil {
		e.ints, e.operands = values, nil
	}
}

// bytes writes the DICT. Operands that are offsets take five bytes each, so that
// the length does not depend on their values.
func (d dict) bytes() []byte {
	var out []byte
	for _, e := range d {
		switch e.op {
		case opCharset, opCharStrings, opPrivate, opSubrs, opFDArray, opFDSelect:
			for _, v := range e.ints {
				out = append(out, 29)
				out = binary.BigEndian.AppendUint32(out, uint32(v))
			}
		default:
			out = append(out, e.operands...)
		}
		if e.op >= 12<<8 {
			out = append(out, 12)
		}
		out = append(out, byte(e.op))
	}
	return out
}
