// SPDX-License-Identifier: GPL-3.0-or-later
// A target for gloves: at least 20 mm, wrapping plain text, its key shown on it, a mark drawn
// beside the words. Painted by itself, so that no style sheet makes it smaller.
//
// Space presses it and so does Enter, except where a step keeps the key for itself
// (setSpacePresses, setEnterPresses): then the key goes on to the step. Held keys press once.
#pragma once

#include <QAbstractButton>

#include <functional>

namespace keyround {

class BigButton final : public QAbstractButton
{
    Q_OBJECT
public:
    enum class Kind {
        Plain,
        Primary, ///< the next thing to do
        Toggle,  ///< stays down: filled, with a tick
        Row      ///< one line of a list: words at the left
    };
    using Mark = std::function<void(QPainter &painter, const QRectF &where, const QColor &ink)>;

    BigButton(Kind kind, const QString &text, QWidget *parent = nullptr);

    /// The key that does the same, or a second line.
    void setHint(const QString &hint);
    [[nodiscard]] QString hint() const { return m_hint; }
    void setMark(Mark mark);
    void setTextPixels(int pixels);
    void setSpacePresses(bool presses) { m_spacePresses = presses; }
    void setEnterPresses(bool presses) { m_enterPresses = presses; }
    /// Width and height that it asks for; never under 20 mm.
    void setTargetMillimetres(double width, double height);

    /// False when even the smallest letters leave words out at its present size.
    [[nodiscard]] bool showsAllWords() const;

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    void keyReleaseEvent(QKeyEvent *event) override;

private:
    void paintGround(QPainter &painter, const QColor &fill, const QColor &edge) const;
    void paintWords(QPainter &painter, const QColor &ink) const;
    [[nodiscard]] QRectF roomForMark() const;
    [[nodiscard]] QRectF roomForWords() const;
    [[nodiscard]] int alignment() const;
    /// The largest that shows all words, down to a smallest.
    [[nodiscard]] QFont fittingFont(const QRectF &room) const;

    Kind m_kind;
    QString m_hint;
    Mark m_mark;
    int m_textPixels = 0;
    double m_widthMillimetres = 20.0;
    double m_heightMillimetres = 20.0;
    bool m_spacePresses = true;
    bool m_enterPresses = false;
};

/// Marks that more than one screen draws.
void drawTick(QPainter &painter, const QRectF &where, const QColor &ink);

} // namespace keyround
