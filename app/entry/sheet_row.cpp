// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/entry/sheet_row.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/entry/paper_sheet_desk.h"

#include <QGridLayout>
#include <QLineEdit>

#include <algorithm>

namespace keyround {

namespace {

constexpr std::array keys{"number",  "time", "found",    "closing",
                          "opening", "left", "problems", "remarks"};

/// Elides what is too long for its place: a row stays one line high.
class StatusLabel final : public QLabel
{
public:
    explicit StatusLabel(QWidget *parent) : QLabel(parent)
    {
        setTextFormat(Qt::PlainText);
        setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    }
    void say(const QString &text)
    {
        m_whole = text;
        setToolTip(plainToolTip(text));
        setAccessibleName(text);
        elide();
    }
    [[nodiscard]] QString whole() const { return m_whole; }

protected:
    void resizeEvent(QResizeEvent *event) override
    {
        QLabel::resizeEvent(event);
        elide();
    }

private:
    void elide() { setText(fontMetrics().elidedText(m_whole, Qt::ElideRight, width() - 4)); }
    QString m_whole;
};

} // namespace

const std::array<int, paperColumnCount + 2> &sheetColumnWidths()
{
    static const std::array widths{34, 118, 62, 70, 110, 115, 70, 190, 150, 0};
    return widths;
}

QString statusOf(const CheckedSheetLine &checked)
{
    using State = CheckedSheetLine::State;
    if (checked.state == State::Refused) {
        return checked.firstRefusal();
    }
    if (checked.state == State::Untouched) {
        return checked.valve ? wordsFor(checked.judgement.baseline) : QString();
    }
    QStringList words;
    if (checked.state == State::Recorded) {
        words << QObject::tr("RECORDED");
    }
    words << wordFor(checked.judgement.verdict);
    if (!checked.reading.visit.passes.empty() &&
        checked.judgement.baseline.source != BaselineSource::None) {
        words << QObject::tr("%1 turns against %2")
                     .arg(turnsText(checked.judgement.counted),
                          wordsFor(checked.judgement.baseline));
    }
    if (checked.leavesOtherThanNormal) {
        words.insert(
            0, QObject::tr("LEFT %1").arg(wordFor(checked.reading.visit.left.position).toUpper()));
    }
    return words.join(QStringLiteral("; "));
}

SheetRow::SheetRow(std::size_t index, QGridLayout *grid, QWidget *parent)
    : QObject(parent), m_index(index),
      m_number(plainCaption(QString::number(index + 1), QStringLiteral("quiet"), parent)),
      m_status(new StatusLabel(parent))
{
    const int row = int(index);
    m_number->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    grid->addWidget(m_number, row, 0);
    for (std::size_t i = 0; i < paperColumnCount; ++i) {
        auto *edit = new QLineEdit(parent);
        const auto column = PaperColumn(i);
        edit->setObjectName(
            QStringLiteral("row%1-%2").arg(index + 1).arg(QLatin1String(keys.at(i))));
        edit->setAccessibleName(tr("Row %1, %2").arg(index + 1).arg(wordFor(column)));
        connect(edit, &QLineEdit::textEdited, this,
                [this, column](const QString &text) { Q_EMIT edited(m_index, column, text); });
        m_edits.at(i) = edit;
        grid->addWidget(edit, row, int(i) + 1);
    }
    m_status->setObjectName(QStringLiteral("row%1-status").arg(index + 1));
    grid->addWidget(m_status, row, int(paperColumnCount) + 1);
    const auto &widths = sheetColumnWidths();
    for (std::size_t i = 0; i < widths.size(); ++i) {
        if (widths.at(i) > 0) {
            grid->itemAtPosition(row, int(i))->widget()->setFixedWidth(widths.at(i));
        }
    }
}

std::optional<PaperColumn> SheetRow::columnOf(const QObject *widget) const
{
    const auto *const found = std::ranges::find(m_edits, widget);
    return found == m_edits.end() ? std::nullopt
                                  : std::optional(PaperColumn(found - m_edits.begin()));
}

QLineEdit *SheetRow::firstField() const
{
    return edit(edit(PaperColumn::Number)->text().trimmed().isEmpty() ? PaperColumn::Number
                                                                      : PaperColumn::Found);
}

void SheetRow::show(const SheetLine &line)
{
    for (std::size_t i = 0; i < paperColumnCount; ++i) {
        QLineEdit *edit = m_edits.at(i);
        if (edit->text() != line.row.texts.at(i)) {
            edit->setText(line.row.texts.at(i));
        }
        edit->setReadOnly(!line.recorded.isNull());
        edit->setEnabled(line.recorded.isNull());
    }
}

void SheetRow::showChecked(const CheckedSheetLine &checked, bool all)
{
    using State = CheckedSheetLine::State;
    for (std::size_t i = 0; i < paperColumnCount; ++i) {
        const auto refusal = checked.reading.refusals.constFind(PaperColumn(i));
        const bool isRefused = refusal != checked.reading.refusals.constEnd() &&
                               (all || !m_edits.at(i)->text().trimmed().isEmpty());
        m_edits.at(i)->setToolTip(isRefused ? plainToolTip(*refusal) : QString());
        if (m_edits.at(i)->property("refused").toBool() != isRefused) {
            restyle(m_edits.at(i), "refused", isRefused);
        }
    }
    const bool isHeldBack = checked.state == State::Refused && !all;
    static_cast<StatusLabel *>(m_status)->say(isHeldBack ? QString() : statusOf(checked));
    const bool isBad = checked.state == State::Refused && all;
    restyle(m_status, "role",
            isBad ? QStringLiteral("refusal")
                  : (checked.leavesOtherThanNormal ? QStringLiteral("entry") : QString()));
}

QString SheetRow::status() const
{
    return static_cast<StatusLabel *>(m_status)->whole();
}

} // namespace keyround
