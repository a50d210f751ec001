export const planTexts = {
  next: '',
}
