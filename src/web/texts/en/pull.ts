export const pullTexts = {
  next: '',
}
