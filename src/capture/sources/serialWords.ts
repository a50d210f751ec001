import { faultText, type Problem } from '../../core/problem.ts'

type System = 'linux' | 'darwin' | 'win32'

const systemOf = (platform: string): System =>
  platform === 'win32' || platform === 'darwin' ? platform : 'linux'

const SEE: Readonly<Record<System, string>> = {
  linux: 'See which ports there are with: tenterhook ports (USB devices are /dev/ttyUSB… or /dev/ttyACM…).',
  darwin: 'See which ports there are with: tenterhook ports (USB devices are /dev/tty.usb…).',
  win32:
    'See which ports there are with: tenterhook ports, or in the Device Manager under Ports (COM & LPT).',
}

const BUSY: Readonly<Record<System, string>> = {
  linux:
    'Close the other program (a serial monitor, a second window of this one); `fuser` with the port’s name tells which it is.',
  darwin:
    'Close the other program (a serial monitor, a second window of this one); `lsof` with the port’s name tells which it is.',
  win32:
    'Close the other program (a serial monitor, a second window of this one), or unplug the device and plug it in again.',
}

const DENIED: Readonly<Record<System, string>> = {
  linux:
    'Add yourself to the group that owns the port: sudo usermod -a -G dialout $USER (on some systems the group is uucp), then log out and in again.',
  darwin: 'Allow it in System Settings, Privacy & Security, or unplug the device and plug it in again.',
  win32:
    'Close any other program that uses the port: Windows says “access denied” for a port in use. Else unplug the device and plug it in again.',
}

/**
 * The serial library's and the system's word on a port that would not open, in ours, with the cure for this
 * system.
 */
export function serialProblem(port: string, error: unknown, platform: string): Problem {
  const system = systemOf(platform)
  const text = faultText(error)
  if (/lock|busy|EBUSY|resource temporarily unavailable|EAGAIN/i.test(text)) {
    return { where: port, what: 'the port is in use by another program.', cure: BUSY[system] }
  }
  if (/access (?:is )?denied|permission denied|EACCES|EPERM|not permitted/i.test(text)) {
    // Windows says the same of a port in use and of one that may not be opened.
    const what = system === 'win32' ? 'Windows denies access to the port.' : 'you may not open the port.'
    return { where: port, what, cure: DENIED[system] }
  }
  if (/no such file|ENOENT|file not found|ENXIO|ENODEV|cannot find|no such device/i.test(text)) {
    return { where: port, what: 'there is no such port.', cure: SEE[system] }
  }
  if (/baud|EINVAL|invalid argument|unsupported/i.test(text)) {
    return {
      where: port,
      what: 'the port does not take this baud rate.',
      cure: 'Choose another speed, such as 9600 or 115200.',
    }
  }
  if (/not a (?:tty|typewriter)|inappropriate ioctl|ENOTTY|is a directory/i.test(text)) {
    return { where: port, what: 'it is no serial port.', cure: SEE[system] }
  }
  return { where: port, what: `the port would not open (${text}).`, cure: SEE[system] }
}

export const unplugged = (port: string): Problem => ({
  where: port,
  what: 'the device was unplugged or switched off.',
  cure: 'Plug it in again: the port is opened again by itself, and the recording goes on.',
})
