/*
 * The board with the program in it, and the converter that it reads, without either: an 8-bit AVR in the emulator
 * libsimavr, and a two-wire 24-bit bridge converter of our own making at its pins. Time is the emulated chip's.
 *
 *   bench DEVICE.elf OUT SECONDS RATE [FAULT@SECOND[+FOR]]…
 *
 * OUT is a file or a terminal that takes what the device says. RATE, 10 or 80, is what the converter gives however its
 * rate pin stands; 0 follows the pin. Faults: busy (no conversion gets ready), wire (the data line is off and reads
 * high), ground (it reads low), slip (one pulse of the clock is not seen), full (end of the range).
 * Afterwards it prints: conversions ready, those taken, pulses slipped, and times the converter switched itself off.
 */
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "simavr/avr_ioport.h"
#include "simavr/avr_uart.h"
#include "simavr/sim_avr.h"
#include "simavr/sim_elf.h"
#include "simavr/sim_time.h"

enum { DATA = 2, CLOCK = 3, RATE = 4, MOST_FAULTS = 16 };

struct fault {
  char kind[12];
  double at, lasts;
  int done;
};

static avr_t *avr;
static avr_irq_t *data_pin;
static int out;
static struct fault faults[MOST_FAULTS];
static int fault_count;
static int fixed_rate, rate_pin = 1;

/* The converter: bits left to give, pulses seen since the conversion, and whether it is switched off. */
static uint32_t word;
static int pulses, is_ready, clock_high, is_off;
static avr_cycle_count_t rose;
static unsigned long conversions, taken, slipped, switched_off;

static double now(void) { return (double)avr->cycle / avr->frequency; }

static int has(const char *kind) {
  for (int i = 0; i < fault_count; i++) {
    const struct fault *f = &faults[i];
    if (strcmp(f->kind, kind) == 0 && now() >= f->at && now() < f->at + f->lasts) return 1;
  }
  return 0;
}

/* What the converter holds the data line at. The emulator lifts a line with a pull-up at every write to its port. */
static int held = 1;

static void show(int level) {
  held = level;
  if (has("wire")) level = 1;
  if (has("ground")) level = 0;
  avr_raise_irq(data_pin, level);
}

/* A slow swing that any value can be told from: even, so that its last bit is low. */
static int32_t value_at(double s) {
  if (has("full")) return 0x7FFFFF;
  return 2 * (int32_t)lround(40000 + 1000 * sin(s));
}

static avr_cycle_count_t period(void) {
  const int hz = fixed_rate ? fixed_rate : (rate_pin ? 80 : 10);
  return avr->frequency / hz;
}

static avr_cycle_count_t convert(avr_t *chip, avr_cycle_count_t when, void *param) {
  (void)chip;
  (void)param;
  if (!is_off && !has("busy")) {
    word = (uint32_t)value_at(now()) & 0xFFFFFF;
    pulses = 0;
    is_ready = 1;
    conversions++;
    show(0);
  } else {
    show(1);
  }
  return when + period();
}

static avr_cycle_count_t restart(avr_t *chip, avr_cycle_count_t when, void *param) {
  (void)chip;
  (void)when;
  (void)param;
  /* Four conversions until it has settled. */
  avr_cycle_timer_cancel(avr, convert, NULL);
  avr_cycle_timer_register(avr, 4 * period(), convert, NULL);
  return 0;
}

static void on_clock(struct avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  if (value && !clock_high) {
    clock_high = 1;
    rose = avr->cycle;
    if (is_off || !is_ready) return;
    for (int i = 0; i < fault_count; i++) {
      struct fault *f = &faults[i];
      if (strcmp(f->kind, "slip") == 0 && !f->done && now() >= f->at && pulses == 9) {
        f->done = 1;
        slipped++;
        return;
      }
    }
    pulses++;
    if (pulses <= 24) show((word >> (24 - pulses)) & 1);
    if (pulses == 25) {
      taken++;
      is_ready = 0;
      show(1);
    }
  } else if (!value && clock_high) {
    clock_high = 0;
    show(held);
    if (avr->cycle - rose > avr->frequency / 1000000 * 60) {
      switched_off++;
      is_ready = 0;
      show(1);
      restart(avr, 0, NULL);
    }
  }
}

static void on_rate(struct avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  rate_pin = (int)value;
}

static void on_byte(struct avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  const uint8_t byte = (uint8_t)value;
  if (write(out, &byte, 1) != 1) {
    perror("write");
    exit(1);
  }
}

/* Asleep, the chip's time passes at once. */
static void sleep_through(avr_t *chip, avr_cycle_count_t howlong) { chip->cycle += howlong; }

int main(int argc, char **argv) {
  if (argc < 5) return 2;
  static elf_firmware_t firmware;
  if (elf_read_firmware(argv[1], &firmware) != 0) return 1;
  out = open(argv[2], O_WRONLY | O_CREAT | O_APPEND | O_NOCTTY, 0600);
  if (out < 0) return 1;
  const double lasts = atof(argv[3]);
  fixed_rate = atoi(argv[4]);
  for (int i = 5; i < argc && fault_count < MOST_FAULTS; i++) {
    struct fault *f = &faults[fault_count++];
    f->lasts = 1e9;
    if (sscanf(argv[i], "%11[a-z]@%lf+%lf", f->kind, &f->at, &f->lasts) < 2) return 2;
  }
  avr = avr_make_mcu_by_name("atmega328p");
  if (!avr) return 1;
  avr_init(avr);
  avr->frequency = 16000000;
  avr_load_firmware(avr, &firmware);
  avr->sleep = sleep_through;
  avr->log = LOG_ERROR;
  uint32_t flags = 0;
  avr_ioctl(avr, AVR_IOCTL_UART_GET_FLAGS('0'), &flags);
  flags &= ~(AVR_UART_FLAG_STDIO | AVR_UART_FLAG_POLL_SLEEP);
  avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), on_byte, NULL);
  data_pin = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), DATA);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), CLOCK), on_clock, NULL);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), RATE), on_rate, NULL);
  avr_raise_irq(data_pin, 1);
  avr_cycle_timer_register(avr, 4 * period(), convert, NULL);
  while (now() < lasts) {
    const int state = avr_run(avr);
    if (state == cpu_Done || state == cpu_Crashed) return 1;
  }
  printf("%lu %lu %lu %lu\n", conversions, taken, slipped, switched_off);
  return 0;
}
