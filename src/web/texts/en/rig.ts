export const rigTexts = {
  next: '',
}
