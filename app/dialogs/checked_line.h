// SPDX-License-Identifier: GPL-3.0-or-later
// A line to type into that hands its text over when Return is pressed or the line is left, and
// shows a refusal beside it: what was typed stays for mending, nothing was changed. Escape brings
// back the stored text.
#pragma once

#include "core/common/result.h"

#include <QWidget>

#include <functional>

class QLabel;
class QLineEdit;

namespace keyround {

class CheckedLine final : public QWidget
{
    Q_OBJECT
public:
    /// Takes the typed text or says why not.
    using Take = std::function<Status(const QString &text)>;

    /// The name is what assistive programs read.
    CheckedLine(const QString &name, Take take, QWidget *parent = nullptr);

    /// The text as it is stored. Does not disturb somebody who is typing.
    void setStored(const QString &text);
    /// Shows refusals in a label elsewhere, for lines too narrow for words.
    /// Several lines may share one label, which hides when the refusal it shows is settled.
    void showRefusalsIn(QLabel *label) { m_elsewhere = label; }
    /// Puts the text there whatever is typed: the line stands for another thing now.
    void reset(const QString &text);
    [[nodiscard]] QString stored() const { return m_stored; }
    [[nodiscard]] QLineEdit *line() const { return m_line; }
    [[nodiscard]] bool isRefused() const;
    /// Hands the text over now; true when it was taken or had not changed.
    bool commit();

    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    void showRefusal(const QString &message);

    Take m_take;
    QString m_stored;
    QLineEdit *m_line;
    QLabel *m_message;
    QLabel *m_elsewhere = nullptr;
};

} // namespace keyround
