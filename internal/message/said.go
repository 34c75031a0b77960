package message

// Said is a message with the words that a voice found for it. A nil *Said says
// nothing; templates print it, and ask whether there is one.
type Said struct {
	Message Message `json:"message"`
	Words   string  `json:"words,omitempty"` // "" until it is voiced
}

// Say holds a message to be voiced; nil where there is nothing to say.
func Say(m Message) *Said {
	if m.IsZero() {
		return nil
	}
	return &Said{Message: m}
}

// SayAll holds messages to be voiced, without those that say nothing.
func SayAll(all []Message) []*Said {
	return SayEach(all, func(m Message) Message { return m })
}

// SayEach holds what things come to, to be voiced, without what says nothing.
func SayEach[T any](all []T, says func(T) Message) []*Said {
	var out []*Said
	for _, x := range all {
		if s := Say(says(x)); s != nil {
			out = append(out, s)
		}
	}
	return out
}

// String returns the words.
func (s *Said) String() string {
	if s == nil {
		return ""
	}
	return s.Words
}

// Equal reports whether both say the same, or nothing.
func (s *Said) Equal(o *Said) bool {
	if s == nil || o == nil {
		return s == o
	}
	return s.Message.Equal(o.Message)
}
