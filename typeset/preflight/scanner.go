package preflight

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
)

// scanner reads the operators of a content stream with their operands (ISO
// 32000-1, 7.8.2). Operands are float64, name, []byte for a string, []any for
// an array, and map[name]any for a dictionary.
type scanner struct {
	b  []byte
	at int
}

type name string

// operator is a word that is no operand.
type operator string

const (
	mostOperands = 4096 // in one array, or before one operator
	mostNesting  = 16
)

var (
	errEnd   = errors.New("the content ends in the middle of something")
	errDeep  = errors.New("arrays and dictionaries are nested too deep")
	errToken = errors.New("there is something that cannot be read")
)

func isSpace(c byte) bool {
	return c == 0 || c == '\t' || c == '\n' || c == '\f' || c == '\r' || c == ' '
}

func isDelimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

func (s *scanner) skip() {
	for s.at < len(s.b) {
		switch c := s.b[s.at]; {
		case c == '%':
			for s.at < len(s.b) && s.b[s.at] != '\n' && s.b[s.at] != '\r' {
				s.at++
			}
		case isSpace(c):
			s.at++
		default:
			return
		}
	}
}

// next returns the next operand or operator; nil at the end.
func (s *scanner) next(depth int) (any, error) {
	s.skip()
	if s.at >= len(s.b) {
		return nil, nil
	}
	if depth > mostNesting {
		return nil, errDeep
	}
	switch c := s.b[s.at]; c {
	case '(':
		return s.literal()
	case '<':
		if s.at+1 < len(s.b) && s.b[s.at+1] == '<' {
			s.at += 2
			return s.dictionary(depth)
		}
		return s.hex()
	case '[':
		s.at++
		return s.list(']', depth)
	case '/':
		return s.name(), nil
	case ']', '>', ')', '}', '{':
		s.at++
		return operator(c), nil
	}
	return s.word(), nil
}

// word reads a number or an operator.
func (s *scanner) word() any {
	from := s.at
	for s.at < len(s.b) && !isSpace(s.b[s.at]) && !isDelimiter(s.b[s.at]) {
		s.at++
	}
	w := string(s.b[from:s.at])
	if c := w[0]; c >= '0' && c <= '9' || c == '+' || c == '-' || c == '.' {
		if v, err := strconv.ParseFloat(w, 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v
		}
		return 0.0 // readers take a number that is none for nothing
	}
	switch w {
	case "true", "false", "null":
		return name(w)
	}
	return operator(w)
}

func (s *scanner) name() name {
	s.at++
	var b []byte
	for s.at < len(s.b) && !isSpace(s.b[s.at]) && !isDelimiter(s.b[s.at]) {
		if c := s.b[s.at]; c == '#' && s.at+2 < len(s.b) {
			if v, err := strconv.ParseUint(string(s.b[s.at+1:s.at+3]), 16, 8); err == nil {
				b = append(b, byte(v))
				s.at += 3
				continue
			}
		}
		b = append(b, s.b[s.at])
		s.at++
	}
	return name(b)
}

// literal reads a string in parentheses (ISO 32000-1, 7.3.4.2).
func (s *scanner) literal() (any, error) {
	s.at++
	b := []byte{}
	for depth := 1; s.at < len(s.b); s.at++ {
		c := s.b[s.at]
		switch c {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				s.at++
				return b, nil
			}
		case '\\':
			if s.at++; s.at >= len(s.b) {
				return nil, errEnd
			}
			switch e := s.b[s.at]; {
			case e >= '0' && e <= '7':
				v := 0
				for n := 0; n < 3 && s.at < len(s.b) && s.b[s.at] >= '0' && s.b[s.at] <= '7'; n++ {
					v = v*8 + int(s.b[s.at]-'0')
					s.at++
				}
				s.at--
				c = byte(v)
			case e == '\r':
				if s.at+1 < len(s.b) && s.b[s.at+1] == '\n' {
					s.at++
				}
				continue
			case e == '\n':
				continue
			default:
				c = e
				if i := bytes.IndexByte([]byte("nrtbf"), e); i >= 0 {
					c = "\n\r\t\b\f"[i]
				}
			}
		}
		b = append(b, c)
	}
	return nil, errEnd
}

func (s *scanner) hex() (any, error) {
	s.at++
	b := []byte{}
	half, high := false, byte(0)
	for ; s.at < len(s.b); s.at++ {
		c := s.b[s.at]
		var v byte
		switch {
		case c == '>':
			s.at++
			if half {
				b = append(b, high)
			}
			return b, nil
		case c >= '0' && c <= '9':
			v = c - '0'
		case c >= 'a' && c <= 'f':
			v = c - 'a' + 10
		case c >= 'A' && c <= 'F':
			v = c - 'A' + 10
		case isSpace(c):
			continue
		default:
			return nil, fmt.Errorf("%w: %q in a string", errToken, c)
		}
		if half {
			b = append(b, high|v)
		}
		half, high = !half, v<<4
	}
	return nil, errEnd
}

func (s *scanner) list(end byte, depth int) ([]any, error) {
	a := []any{}
	for {
		s.skip()
		if s.at >= len(s.b) {
			return nil, errEnd
		}
		if s.b[s.at] == end {
			s.at++
			return a, nil
		}
		v, err := s.next(depth + 1)
		if err != nil {
			return nil, err
		}
		if len(a) < mostOperands {
			a = append(a, v)
		}
	}
}

func (s *scanner) dictionary(depth int) (any, error) {
	a, err := s.list('>', depth)
	if err != nil {
		return nil, err
	}
	if s.at < len(s.b) && s.b[s.at] == '>' {
		s.at++
	}
	return pairs(a), nil
}

func pairs(a []any) map[name]any {
	d := make(map[name]any)
	for i := 0; i+1 < len(a); i += 2 {
		if k, ok := a[i].(name); ok {
			d[k] = a[i+1]
		}
	}
	return d
}

// inline reads the dictionary of an inline image, after BI, and passes over
// its data (ISO 32000-1, 8.9.7).
func (s *scanner) inline() (map[name]any, error) {
	var a []any
	for {
		v, err := s.next(0)
		switch {
		case err != nil:
			return nil, err
		case v == nil:
			return nil, errEnd
		}
		if v == operator("ID") {
			break
		}
		if len(a) < mostOperands {
			a = append(a, v)
		}
	}
	for s.at++; ; s.at++ {
		i := bytes.Index(s.b[min(s.at, len(s.b)):], []byte("EI"))
		if i < 0 {
			return nil, errEnd
		}
		s.at += i
		if isSpace(s.b[s.at-1]) && (s.at+2 == len(s.b) || isSpace(s.b[s.at+2])) {
			s.at += 2
			return pairs(a), nil
		}
	}
}
