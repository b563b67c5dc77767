// SPDX-License-Identifier: GPL-3.0-or-later
// A line for a number of turns, 20 mm high. What cannot be read stays as typed, is marked, and
// the reason stands beside it; nothing is rounded or guessed.
#pragma once

#include "core/common/result.h"
#include "core/common/units.h"

#include <QWidget>

#include <optional>

class QLabel;
class QLineEdit;

namespace keyround {

class TurnsLine final : public QWidget
{
    Q_OBJECT
public:
    TurnsLine(const QString &fieldName, const QString &question, QWidget *parent = nullptr);

    void setText(const QString &text);
    [[nodiscard]] QString text() const;
    [[nodiscard]] Result<std::optional<QuarterTurns>> read() const;
    [[nodiscard]] QLineEdit *edit() const { return m_edit; }
    [[nodiscard]] bool isRefused() const;
    void showRefusal(const QString &why); ///< empty takes the mark away

Q_SIGNALS:
    void edited(const QString &text);

private:
    void check();

    QLineEdit *m_edit;
    QLabel *m_message;
    QString m_question;
};

/// Marks a line edit as refused or not (the style sheet draws it).
void setRefused(QLineEdit *edit, bool refused);

} // namespace keyround
