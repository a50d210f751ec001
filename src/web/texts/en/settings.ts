export const settingsTexts = {
  next: '',
}
