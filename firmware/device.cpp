// A program for a bench device: an 8-bit AVR board at 16 MHz (ATmega328P) with the usual two-wire 24-bit bridge
// converter. It reads each conversion once, when it is ready, and says it in Tenterhook's line protocol
// (docs/line-protocol.md) without ever waiting for the line. How to wire, build and load it: docs/device.md.

// ---- What you may change --------------------------------------------------------------------------------------------

// The three wires to the converter, all of port D: D2, D3 and D4 on most boards.
#define DATA_BIT 2   // the converter's data line (needs a pin-change interrupt of port D)
#define CLOCK_BIT 3  // its clock line
#define RATE_BIT 4   // its rate pin; leave it open where the rate is set by a jumper, and say so below

// Whether RATE_BIT sets the rate, or a jumper does; and the rate at the start: 10 or 80 readings a second.
#define RATE_BY_PIN 1
#define RATE_AT_START 80

// 1 where a pull lowers the raw value, and the cell's signal wires cannot be swapped.
#define TURNED 0

#define NAME "bench"
#define BAUD 115200UL

// ---- The rest -------------------------------------------------------------------------------------------------------

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <stdint.h>
#include <string.h>
#include <util/delay.h>

namespace {

constexpr uint8_t DATA = 1 << DATA_BIT;
constexpr uint8_t CLOCK = 1 << CLOCK_BIT;
constexpr uint8_t RATE = 1 << RATE_BIT;

// Bits of a sample's status.
constexpr uint8_t OVER_RANGE = 1;
constexpr uint8_t NO_CELL = 2;
constexpr uint8_t OVERRUN = 8;
constexpr uint8_t BITS_SLIPPED = 16;

// ---- The clock: timer 1 in half microseconds, and how often it ran over ----

volatile uint32_t overflows = 0;

// Microseconds since the start; wraps round after 71 minutes, as the protocol allows. Only with interrupts off.
uint32_t microsNow() {
  const uint16_t count = TCNT1;
  uint32_t over = overflows;
  // It ran over just now, and nobody has counted it yet.
  if ((TIFR1 & (1 << TOV1)) && count < 0x8000) over++;
  return over * 32768UL + (count >> 1);
}

// ---- The line: what is to be sent waits in a ring, and an interrupt sends it byte by byte ----

constexpr uint16_t RING = 256;
volatile uint8_t outgoing[RING];
volatile uint8_t outHead = 0;  // next to send
volatile uint8_t outTail = 0;  // next free place; a byte wraps round by itself at 256

uint8_t roomToSend() { return static_cast<uint8_t>(outHead - outTail - 1); }

// All of a line or nothing of it: half a line would be a broken one.
bool sendText(const char *text, uint8_t length) {
  if (roomToSend() < length) return false;
  uint8_t tail = outTail;
  for (uint8_t i = 0; i < length; i++) outgoing[tail++] = text[i];
  outTail = tail;
  UCSR0B |= 1 << UDRIE0;
  return true;
}

volatile char incoming[24];
volatile uint8_t incomingLength = 0;
volatile bool commandReady = false;

// ---- Lines of the protocol ----

class Line {
 public:
  void add(const char *text) {
    while (*text) add(*text++);
  }
  void add(char c) {
    if (length < MOST) text[length++] = c;
  }
  void addNumber(uint32_t value) {
    char digits[10];
    uint8_t n = 0;
    do {
      digits[n++] = static_cast<char>('0' + value % 10);
      value /= 10;
    } while (value > 0);
    while (n > 0) add(digits[--n]);
  }
  void addSigned(int32_t value) {
    if (value < 0) add('-');
    addNumber(value < 0 ? static_cast<uint32_t>(-value) : static_cast<uint32_t>(value));
  }
  // With its checksum and its end; false where the ring has no room for it.
  bool send() {
    uint16_t crc = 0xFFFF;
    for (uint8_t i = 0; i < length; i++) {
      crc ^= static_cast<uint16_t>(static_cast<uint8_t>(text[i])) << 8;
      for (uint8_t bit = 0; bit < 8; bit++) crc = crc & 0x8000 ? (crc << 1) ^ 0x1021 : crc << 1;
    }
    text[length++] = '*';
    for (int8_t shift = 12; shift >= 0; shift -= 4) {
      const uint8_t digit = (crc >> shift) & 0xF;
      text[length++] = static_cast<char>(digit < 10 ? '0' + digit : 'A' + digit - 10);
    }
    text[length++] = '\n';
    return sendText(text, length);
  }

 private:
  static constexpr uint8_t MOST = 100;
  char text[MOST + 6];
  uint8_t length = 0;
};

// ---- The converter ----

volatile bool isReady = false;
volatile uint32_t readyAt = 0;  // in microseconds
uint8_t rateNow = RATE_AT_START;

bool dataIsHigh() { return PIND & DATA; }

// `mayBeReady`: it may have fallen while nobody watched. Just after a fresh start it may not: a line that is low then is
// held low by something else, and is waited for until it has been high.
void watchData(bool mayBeReady) {
  PCIFR = 1 << PCIF2;
  PCMSK2 = DATA;
  cli();
  if (mayBeReady && !isReady && !dataIsHigh()) {
    readyAt = microsNow();
    isReady = true;
  }
  sei();
}

void setRate(uint8_t hz) {
  rateNow = hz;
#if RATE_BY_PIN
  DDRD |= RATE;
  if (hz == 80)
    PORTD |= RATE;
  else
    PORTD &= static_cast<uint8_t>(~RATE);
#endif
}

// One pulse of the clock. Nothing may come between its two edges: above 60 microseconds the converter switches itself
// off, and an interrupt there is what doubles readings.
bool pulse() {
  const uint8_t flags = SREG;
  cli();
  PORTD |= CLOCK;
  _delay_us(1);
  const bool bit = dataIsHigh();
  PORTD &= static_cast<uint8_t>(~CLOCK);
  SREG = flags;
  _delay_us(1);
  return bit;
}

// 24 bits, the highest first, and a 25th pulse that asks for the first channel at the gain of 128 again. False where
// the data line is not high after it: then the converter has counted other pulses than we have.
bool readConverter(int32_t &value) {
  uint32_t word = 0;
  for (uint8_t i = 0; i < 24; i++) word = (word << 1) | (pulse() ? 1 : 0);
  pulse();
  if (!dataIsHigh()) return false;
  _delay_us(10);
  if (!dataIsHigh()) return false;
  // All ones is what a line that came off in the middle looks like; a true -1 of 24 bits is worth less than that.
  if (word == 0xFFFFFF) return false;
  value = static_cast<int32_t>(word << 8) >> 8;
  return true;
}

// Clock high for more than 60 microseconds switches the converter off, low switches it on with a fresh start.
void restartConverter() {
  PORTD |= CLOCK;
  _delay_us(100);
  PORTD &= static_cast<uint8_t>(~CLOCK);
}

// ---- What is said ----

uint16_t sequence = 0;
uint8_t owedStatus = 0;
bool isSending = true;

void greet() {
  Line line;
  line.add("tenterhook 1 unit=counts tick=1e-6 rate=");
  line.addNumber(rateNow);
  line.add(" name=" NAME);
  line.send();
}

void saySample(uint16_t number, uint32_t micros, int32_t value, uint8_t status) {
  if (!isSending) return;
  Line line;
  line.add("s ");
  line.addNumber(number);
  line.add(' ');
  line.addNumber(micros);
  line.add(' ');
  line.addSigned(value);
  line.add(' ');
  line.addNumber(status | owedStatus);
  owedStatus = line.send() ? 0 : OVERRUN;
}

void answer(const char *word, const char *command, const char *reason) {
  Line line;
  line.add(word);
  line.add(' ');
  line.add(command);
  line.add(reason);
  line.send();
}

void obey(char *command) {
  if (strcmp(command, "hello") == 0) {
    greet();
  } else if (strcmp(command, "send") == 0) {
    isSending = true;
    answer("ok", command, "");
  } else if (strcmp(command, "hush") == 0) {
    isSending = false;
    answer("ok", command, "");
  } else if (strncmp(command, "rate ", 5) == 0) {
    uint16_t asked = 0;
    for (const char *c = command + 5; *c >= '0' && *c <= '9' && asked < 1000; c++)
      asked = static_cast<uint16_t>(10 * asked + (*c - '0'));
#if RATE_BY_PIN
    setRate(asked >= 45 ? 80 : 10);
    answer("ok", rateNow == 80 ? "rate 80" : "rate 10", "");
#else
    answer(asked == rateNow ? "ok" : "no", command, asked == rateNow ? "" : ": a jumper sets it");
#endif
  } else {
    answer("no", command, ": not known");
  }
}

void takeCommand() {
  char command[sizeof incoming];
  cli();
  for (uint8_t i = 0; i < incomingLength; i++) command[i] = incoming[i];
  command[incomingLength] = 0;
  incomingLength = 0;
  commandReady = false;
  sei();
  obey(command);
}

// A converter that says nothing for so long is not there: four readings at its slow rate are 0.4 s.
constexpr uint32_t SILENT_MICROS = 500000UL;

void takeReading() {
  const uint32_t micros = readyAt;
  PCMSK2 = 0;
  int32_t value = 0;
  const bool isWhole = readConverter(value);
  isReady = false;
  if (isWhole) {
    const bool atEnd = value == 0x7FFFFF || value == -0x800000;
    saySample(sequence, micros, TURNED ? -value : value, atEnd ? OVER_RANGE : 0);
  } else {
    saySample(sequence, micros, 0, BITS_SLIPPED);
    restartConverter();
  }
  sequence++;
  watchData(isWhole);
}

}  // namespace

ISR(TIMER1_OVF_vect) { overflows++; }

ISR(PCINT2_vect) {
  if (isReady || (PIND & DATA)) return;
  readyAt = microsNow();
  isReady = true;
}

ISR(USART_UDRE_vect) {
  if (outHead == outTail) {
    UCSR0B &= static_cast<uint8_t>(~(1 << UDRIE0));
    return;
  }
  UDR0 = outgoing[outHead];
  outHead = static_cast<uint8_t>(outHead + 1);
}

ISR(USART_RX_vect) {
  const char c = static_cast<char>(UDR0);
  // The command before is still to be read: this one is left out whole, and asked again by whoever wants it.
  if (commandReady || c == '\r') return;
  if (c == '\n') {
    commandReady = incomingLength > 0;
    return;
  }
  if (incomingLength < sizeof incoming - 1) {
    incoming[incomingLength] = c;
    incomingLength = static_cast<uint8_t>(incomingLength + 1);
  }
}

int main() {
  DDRD |= CLOCK;
  PORTD &= static_cast<uint8_t>(~CLOCK);
  // A pulled wire then reads high, which is never ready, and not as noise.
  PORTD |= DATA;
  TCCR1B = 1 << CS11;
  TIMSK1 = 1 << TOIE1;
  UCSR0A = 1 << U2X0;
  UBRR0 = (F_CPU + 4UL * BAUD) / (8UL * BAUD) - 1;
  UCSR0B = (1 << TXEN0) | (1 << RXEN0) | (1 << RXCIE0);
  PCICR = 1 << PCIE2;
  setRate(RATE_AT_START);
  set_sleep_mode(SLEEP_MODE_IDLE);
  sei();
  greet();
  watchData(true);
  cli();
  uint32_t heardAt = microsNow();
  sei();
  for (;;) {
    cli();
    const uint32_t now = microsNow();
    if (!isReady && !commandReady && now - heardAt < SILENT_MICROS) {
      // Interrupts on and asleep in one: none can slip in between.
      sleep_enable();
      sei();
      sleep_cpu();
      sleep_disable();
      continue;
    }
    sei();
    if (isReady) {
      takeReading();
      heardAt = now;
    } else if (now - heardAt >= SILENT_MICROS) {
      // The number is that of the sample still to come: nothing was taken, and nothing is lost.
      saySample(sequence, now, 0, NO_CELL);
      restartConverter();
      heardAt = now;
    }
    if (commandReady) takeCommand();
  }
}
